// Spans in which a channel lies: readings that cannot be, and those that are missing.
#include "core/review/faults.h"

#include "core/log/integrals.h"
#include "core/units.h"

#include <cmath>
#include <tuple>
#include <utility>

namespace rw::review {

namespace {

using enum Quantity;

struct Limits {
    double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
};
Limits possible(Quantity q, const ReviewThresholds& th) {
    if (q == PackVoltage || q == ReceiverVoltage) return {0.0, th.voltageMost};
    if (isTemperature(q)) return {kelvinFromCelsius(th.temperatureLeast), kelvinFromCelsius(th.temperatureMost)};
    if (q == MotorSpeed) return {0.0, th.motorSpeedMost * radpsPerRpm};
    return {};
}

ChannelScans scanAll(const Context& context) {
    std::vector<std::span<const double>> channels;
    channels.reserve(judgedChannels.size());
    for (const Quantity q : judgedChannels)
        channels.push_back(context[q]);
    auto found = scanChannels(channels, context.threads);
    ChannelScans scans;
    for (std::size_t i = 0; i < judgedChannels.size(); ++i)
        scans[judgedChannels[i]] = std::move(found[i]);
    return scans;
}

void findOutOfRange(Context& context, const ChannelScans& scans, Quantity q) {
    const Limits limits = possible(q, context.th);
    const auto& values = context[q];
    for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
        const auto& block = scans[q].blocks[b];
        if (block.low >= limits.low && block.high <= limits.high) continue;
        forEachRun(
            ChannelScan::rowsOf(b, values.size()),
            [&](std::size_t i) { return values[i] < limits.low || values[i] > limits.high; },
            [&](Rows run) { addFault(context, q, FaultSpan::Kind::Impossible, run); });
    }
}

std::vector<double> sampledChanges(std::span<const double> values) {
    std::vector<double> changes;
    const std::size_t stride = std::max<std::size_t>(1, values.size() / 2000);
    for (std::size_t i = 1; i < values.size(); i += stride)
        if (const double change = std::abs(values[i] - values[i - 1]); change == change) changes.push_back(change);
    return changes;
}

double usualChange(std::span<const double> values) {
    std::vector<double> changes = sampledChanges(values);
    const double median = medianOf(changes);
    return std::isnan(median) ? 0.0 : median;
}

// Noise of less than a step flickers between few values and most samples do not change at all: 19 changes of 20 are
// within this.
double flicker(std::span<const double> values) {
    std::vector<double> changes = sampledChanges(values);
    if (changes.empty()) return 0.0;
    const auto place = changes.begin() + static_cast<std::ptrdiff_t>(changes.size() * 19 / 20);
    std::nth_element(changes.begin(), place, changes.end());
    return *place;
}

// How long a reading had to change in. A slow sensor had all its own interval, unless it shows by changing again sooner
// that it is none; and a value that was held over a hole is as old as the hole.
class TimeToChange {
public:
    TimeToChange(const Context& context, Quantity q, Rows session)
        : values_(context[q])
        , time_(context.log.time)
        , interval_(context.log[q].interval_s)
        , session_(session) {}

    [[nodiscard]] double before(std::size_t row) const {
        std::size_t next = row + 1;
        while (next <= session_.last && values_[next] == values_[row] && time_[next] - time_[row] < interval_)
            ++next;
        const double again =
            next <= session_.last && values_[next] != values_[row] ? time_[next] - time_[row] : interval_;
        constexpr double most = 0.5; // s: however seldom it reads, nothing heats so fast for longer
        return std::max(std::min({interval_, again, most}), held(row));
    }

private:
    [[nodiscard]] double held(std::size_t row) const {
        constexpr double intervals = 5.0, seconds = 1.0; // longer holes are not filled: see core/log
        std::size_t first = row - 1;
        while (first > session_.first && values_[first - 1] == values_[row - 1] &&
               time_[row] - time_[first] <= seconds + timeEpsilon)
            --first;
        const double age = time_[row] - time_[first];
        return age > intervals * interval_ && age <= seconds + timeEpsilon ? age : 0.0;
    }

    std::span<const double> values_, time_;
    double interval_;
    Rows session_;
};

// Readings that could not have been reached from the last good one of the same session.
void findTooQuickIn(Context& context, Quantity q, Rows session, double least) {
    const auto& values = context[q];
    const auto& time = context.log.time;
    const double rate = context.th.temperatureRate;
    const TimeToChange had(context, q, session);
    const auto& blocks = context.scans[q].blocks;
    std::size_t good = session.first;
    for (std::size_t i = session.first; i <= session.last; ++i) {
        const std::size_t block = i / ChannelScan::blockRows;
        const std::size_t end = std::min(session.last, ChannelScan::rowsOf(block, values.size()).last);
        if (good + 1 >= i && blocks[block].step <= least) { // nothing jumps here, and no fault runs on into it
            good = i = end;
            continue;
        }
        if (std::isnan(values[i])) continue; // missing is no fault
        const double passed = time[i] - time[good], change = std::abs(values[i] - values[good]);
        const bool jumped = change > least && change > rate * passed + 1e-9 && change > rate * had.before(i) + 1e-9;
        if (!jumped || passed < 0.0 || std::isnan(values[good])) // a restarted clock begins anew
            good = i;
        else
            addFault(context, q, FaultSpan::Kind::Impossible, {i, i});
    }
}

bool othersMove(const Context& context, const ChannelScans& scans, Quantity q, std::size_t row) {
    for (const Quantity other : movers) {
        if (other == q || !context.has(other)) continue;
        const auto& v = context[other];
        const double most = std::max(std::abs(v[row] - v[row - 1]), std::abs(v[row] - v[row + 1]));
        if (most > context.th.spikeOther * scans[other].span()) return true;
    }
    return false;
}

// One sample off both neighbours. The span shrinks as spikes are taken out, so a smaller one may show: looked for
// again.
void findSpikes(Context& context, ChannelScans& scans, Quantity q) {
    const ReviewThresholds& th = context.th;
    const auto& time = context.log.time;
    const double step = medianStep(time);
    if (!(step > 0.0) || step > 1.0 / th.spikeRate + timeEpsilon) return;
    const double widest = 2.0 * gapLimit(step);
    const double least = std::max(th.spikeSteps * context.log[q].step, th.spikeNoise * usualChange(context[q]));
    for (bool again = true; again;) {
        again = false;
        const double off = std::max(th.spikeShare * scans[q].span(), least);
        for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
            if (!(scans[q].blocks[b].spike > off)) continue;
            const auto values = context[q];
            const Rows rows = ChannelScan::rowsOf(b, values.size());
            for (std::size_t i = std::max<std::size_t>(rows.first, 1); i <= rows.last && i + 1 < values.size(); ++i) {
                const double before = values[i] - values[i - 1], after = values[i] - values[i + 1];
                if (!(before * after > 0.0) || !(std::min(std::abs(before), std::abs(after)) > off)) continue;
                const double around = time[i + 1] - time[i - 1];
                if (around < 0.0 || around > widest || othersMove(context, scans, q, i)) continue;
                addFault(context, q, FaultSpan::Kind::Impossible, {i, i});
                context.mask(q, {i, i});
                again = true;
            }
        }
        if (again) scans[q] = scanChannel(context[q]);
    }
}

} // namespace

void addFault(Context& context, Quantity q, FaultSpan::Kind kind, Rows rows) {
    context.out.faults.push_back({kind, q, 0, rows.first, rows.last});
}

bool maskFaults(Context& context, std::size_t from) {
    const auto& faults = context.out.faults;
    for (std::size_t i = from; i < faults.size(); ++i)
        context.mask(faults[i].quantity, {faults[i].startRow, faults[i].endRow});
    return faults.size() > from;
}

void joinFaults(Context& context, std::size_t from) {
    std::vector<FaultSpan>& faults = context.out.faults;
    std::sort(faults.begin() + static_cast<std::ptrdiff_t>(from), faults.end(),
              [](const FaultSpan& a, const FaultSpan& b) {
                  return std::tie(a.quantity, a.kind, a.startRow) < std::tie(b.quantity, b.kind, b.startRow);
              });
    std::size_t kept = from;
    for (std::size_t i = from; i < faults.size(); ++i) {
        if (kept > from && faults[kept - 1].quantity == faults[i].quantity && faults[kept - 1].kind == faults[i].kind &&
            std::abs(context.log.time[faults[i].startRow] - context.log.time[faults[kept - 1].endRow]) <=
                context.th.faultJoin)
            faults[kept - 1].endRow = std::max(faults[kept - 1].endRow, faults[i].endRow);
        else
            faults[kept++] = faults[i];
    }
    faults.resize(kept);
}

void findImpossible(Context& context) {
    context.scans = scanAll(context);
    ChannelScans& scans = context.scans;
    for (const Quantity q : judgedChannels) {
        if (!context.has(q)) continue;
        const std::size_t from = context.out.faults.size();
        findOutOfRange(context, scans, q);
        if (maskFaults(context, from)) scans[q] = scanChannel(context[q]);
        context.poll();
    }
    for (const Quantity q : judgedChannels)
        if (context.has(q)) findSpikes(context, scans, q);
    joinFaults(context, 0);
}

void findTooQuick(Context& context) {
    const std::size_t before = context.out.faults.size();
    for (const Quantity q : judgedChannels) {
        if (!context.has(q) || !isTemperature(q)) continue;
        const std::size_t from = context.out.faults.size();
        constexpr double beyondFlicker = 3.0;
        const double least =
            std::max({context.th.temperatureSteps * context.log[q].step,
                      context.th.temperatureNoise * usualChange(context[q]), beyondFlicker * flicker(context[q])}) +
            1e-9;
        for (const ReviewSession& session : context.out.sessions)
            findTooQuickIn(context, q, {session.startRow, session.endRow}, least);
        if (maskFaults(context, from)) context.scans[q] = scanChannel(context[q]);
        context.poll();
    }
    joinFaults(context, before);
}

void findMissing(Context& context) {
    std::vector<FaultSpan> found;
    for (const Quantity q : judgedChannels) {
        const Channel& channel = context.log[q];
        if (channel.missing == 0 || channel.missing == channel.values.size()) continue;
        const auto& values = channel.values;
        for (const ReviewPass& pass : context.out.passes) {
            const Rows session = context.scale[pass.session].rows;
            const auto valid = [](double value) { return !std::isnan(value); };
            if (std::ranges::none_of(std::span(values).subspan(session.first, session.count()), valid))
                continue; // this session has no such quantity
            const double least = std::max(context.th.missingSpan, context.th.missingIntervals * channel.interval_s);
            forEachRun(
                context.rows(pass), [&](std::size_t i) { return !valid(values[i]); },
                [&](Rows run) { // from the last value to the next, as far as the pass goes
                    const std::size_t before = std::max(run.first, pass.startRow + 1) - 1,
                                      after = std::min(run.last + 1, pass.endRow);
                    if (context.time[after] - context.time[before] > least)
                        found.push_back({FaultSpan::Kind::Missing, q, pass.session, run.first, run.last});
                });
        }
    }
    context.out.faults.insert(context.out.faults.end(), found.begin(), found.end());
    for (FaultSpan& fault : context.out.faults)
        for (std::size_t s = 0; s < context.scale.size(); ++s)
            if (context.scale[s].rows.holds(fault.startRow)) fault.session = s;
}

} // namespace rw::review
