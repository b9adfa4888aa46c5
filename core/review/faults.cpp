// Spans in which a channel lies: impossible, stuck, clipped, missing. core/review/README.md "sensor-fault".
#include "core/log/integrals.h"
#include "core/review/channel_scan.h"
#include "core/review/context.h"
#include "core/units.h"

#include <array>
#include <cmath>
#include <tuple>
#include <utility>

namespace rw::review {

namespace {

using enum Quantity;
constexpr auto measured = std::to_array<Quantity>({PackVoltage, RippleVoltage, PackCurrent, MotorCurrent, Throttle,
                                                   Output, MotorSpeed, ControllerTemperature, MotorTemperature,
                                                   PackTemperature, ReceiverVoltage, Speed, Power, Charge});
// Those that show that the car did something.
constexpr auto movers = std::to_array<Quantity>({Throttle, Output, PackVoltage, PackCurrent, MotorSpeed});

bool isTemperature(Quantity q) { return q == ControllerTemperature || q == MotorTemperature || q == PackTemperature; }

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
    for (const Quantity q : measured)
        channels.push_back(context[q]);
    auto found = scanChannels(channels, context.threads);
    ChannelScans scans;
    for (std::size_t i = 0; i < measured.size(); ++i)
        scans[measured[i]] = std::move(found[i]);
    return scans;
}

void add(Context& context, Quantity q, FaultSpan::Kind kind, Rows rows) {
    context.out.faults.push_back({kind, q, 0, rows.first, rows.last});
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
            [&](Rows run) { add(context, q, FaultSpan::Kind::Impossible, run); });
    }
}

// Readings that could not have been reached from the last good one.
void findTooQuick(Context& context, const ChannelScans& scans, Quantity q) {
    const auto& values = context[q];
    const auto& time = context.log.time;
    const double rate = context.th.temperatureRate, step = context.log[q].step;
    const double least = std::max(context.th.temperatureRateSpan, context.log[q].interval_s);
    std::size_t good = 0;
    for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
        const Rows rows = ChannelScan::rowsOf(b, values.size());
        const std::size_t before = rows.first == 0 ? 0 : rows.first - 1;
        const bool follows = good >= before; // the last row is good: no fault runs on into this block
        if (follows && scans[q].blocks[b].step <= rate * least) {
            good = rows.last;
            continue;
        }
        for (std::size_t i = rows.first; i <= rows.last; ++i) {
            const double passed = time[i] - time[good];
            const bool reached = !(std::abs(values[i] - values[good]) > rate * std::max(passed, least) + step);
            if (reached || passed < 0.0) // missing values are no fault; a restarted clock begins anew
                good = std::isnan(values[i]) ? good : i;
            else
                add(context, q, FaultSpan::Kind::Impossible, {i, i});
        }
        if (std::isnan(values[good])) good = rows.last;
    }
}

double usualChange(std::span<const double> values) {
    std::vector<double> changes;
    const std::size_t stride = std::max<std::size_t>(1, values.size() / 2000);
    for (std::size_t i = 1; i < values.size(); i += stride)
        if (const double change = std::abs(values[i] - values[i - 1]); change == change) changes.push_back(change);
    const double median = medianOf(changes);
    return std::isnan(median) ? 0.0 : median;
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
                add(context, q, FaultSpan::Kind::Impossible, {i, i});
                context.mask(q, {i, i});
                again = true;
            }
        }
        if (again) scans[q] = scanChannel(context[q]);
    }
}

// Spans of one kind and channel that lie within a second of one another are told as one.
void join(Context& context, std::size_t from) {
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

bool countManyValues(const Context& context, std::span<const double> values) {
    std::vector<double> seen; // rising
    const auto enough = static_cast<std::size_t>(context.th.distinctValues);
    double before = nan;
    for (const double value : values) {
        if (std::isnan(value) || value == std::exchange(before, value)) continue;
        const auto place = std::lower_bound(seen.begin(), seen.end(), value);
        if (place != seen.end() && *place == value) continue;
        seen.insert(place, value);
        if (seen.size() >= enough) return true;
    }
    return false;
}

bool loaded(const Context& context, std::size_t session, std::size_t row) {
    if (!context.pedal.empty() && context.pedal[row] >= context.th.passEdge) return true;
    return !context.scale[session].rest.at(row);
}

// Rows under load of the whole log, and how many of them change a channel's value.
struct Liveliness {
    std::size_t rows = 0, changes = 0;
};
// What all flat runs of one channel are judged by: asked of all its rows, so once, and only if a run asks.
struct WholeChannel {
    std::optional<bool> manyValues;
    std::optional<Liveliness> lively;
};
Liveliness liveliness(const Context& context, Quantity q) {
    Liveliness found;
    const auto& values = context[q];
    for (std::size_t s = 0; s < context.scale.size(); ++s)
        for (std::size_t i = context.scale[s].rows.first + 1; i <= context.scale[s].rows.last; ++i) {
            if (!loaded(context, s, i)) continue;
            ++found.rows;
            found.changes += values[i] != values[i - 1] ? 1 : 0;
        }
    return found;
}

bool anotherMoves(const Context& context, const ChannelScans& scans, Quantity q, Rows run) {
    for (const Quantity other : movers) {
        if (other == q || !context.has(other)) continue;
        const auto& v = context[other];
        double low = std::numeric_limits<double>::infinity(), high = -low;
        for (std::size_t i = run.first; i <= run.last; ++i)
            low = std::min(low, v[i]), high = std::max(high, v[i]);
        if (high - low > context.th.stuckOther * scans[other].span()) return true;
    }
    return false;
}

bool manyValues(const Context& context, Quantity q, WholeChannel& whole) {
    if (!whole.manyValues) whole.manyValues = countManyValues(context, context[q]);
    return *whole.manyValues;
}

bool longEnough(const Context& context, Rows run) {
    return run.count() >= static_cast<std::size_t>(context.th.stuckSamples) &&
           context.time[run.last] - context.time[run.first] >= context.th.stuckSpan - timeEpsilon;
}

std::size_t sessionOf(const Context& context, std::size_t row) {
    const auto behind = std::partition_point(context.scale.begin(), context.scale.end(),
                                             [row](const SessionScale& scale) { return scale.rows.last < row; });
    return static_cast<std::size_t>(std::min(behind, context.scale.end() - 1) - context.scale.begin());
}

void judgeStuck(Context& context, const ChannelScans& scans, Quantity q, Rows run, WholeChannel& whole) {
    const std::size_t session = sessionOf(context, run.first);
    run.last = std::min(run.last, context.scale[session].rows.last);
    if (!longEnough(context, run)) return;
    // A quantised channel may well rest on one value: only what lies under load counts.
    Rows load = run;
    while (load.first < load.last && !loaded(context, session, load.first))
        ++load.first;
    while (load.last > load.first && !loaded(context, session, load.last))
        --load.last;
    if (!longEnough(context, load) || !anotherMoves(context, scans, q, load)) return;
    if (!manyValues(context, q, whole)) return;
    if (!whole.lively) whole.lively = liveliness(context, q);
    const auto elsewhere = static_cast<double>(whole.lively->rows) - static_cast<double>(load.count());
    if (elsewhere <= 0.0 || static_cast<double>(whole.lively->changes) * context.th.stuckChange < elsewhere) return;
    if (context.time[load.first] - context.time[run.first] > context.th.stuckSpan) run.first = load.first;
    if (context.time[run.last] - context.time[load.last] > context.th.stuckSpan) run.last = load.last;
    add(context, q, FaultSpan::Kind::Stuck, run);
}

void findStuck(Context& context, const ChannelScans& scans, Quantity q, WholeChannel& whole) {
    const auto& values = context[q];
    std::size_t done = 0; // rows before it are judged
    for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
        if (!scans[q].blocks[b].frozen) continue;
        const Rows rows = ChannelScan::rowsOf(b, values.size());
        for (std::size_t i = std::max(rows.first, done); i <= rows.last;) {
            std::size_t first = i, last = i;
            while (last + 1 < values.size() && values[last + 1] == values[i])
                ++last;
            if (i == rows.first)
                while (first > done && values[first - 1] == values[i])
                    --first;
            if (values[i] != 0.0 && last - first + 1 >= static_cast<std::size_t>(context.th.stuckSamples))
                judgeStuck(context, scans, q, {first, last}, whole);
            i = done = last + 1;
        }
    }
}

// How often the most frequent value above a share of the largest occurs, the largest itself left out.
std::size_t mostFrequentBelow(std::span<const double> values, double floor, double largest) {
    std::vector<double> high;
    for (const double value : values)
        if (value > floor && value < largest) high.push_back(value);
    std::sort(high.begin(), high.end());
    std::size_t most = 0;
    for (std::size_t i = 0, j = 0; i < high.size(); i = j) {
        while (j < high.size() && high[j] == high[i])
            ++j;
        most = std::max(most, j - i);
    }
    return most;
}

void findClipped(Context& context, const ChannelScans& scans, Quantity q, WholeChannel& whole) {
    const auto& values = context[q];
    const double largest = scans[q].high, steep = context.th.clippedSteep * scans[q].span();
    std::vector<Rows> found;
    std::size_t times = 0, done = 0;
    for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
        if (scans[q].blocks[b].high != largest) continue;
        const Rows rows = ChannelScan::rowsOf(b, values.size());
        for (std::size_t i = std::max(rows.first, done); i <= rows.last; ++i) {
            if (values[i] != largest) continue;
            std::size_t last = i;
            while (last + 1 < values.size() && values[last + 1] == largest)
                ++last;
            times += last - i + 1;
            const bool between = i > 0 && last + 1 < values.size();
            if (last - i + 1 >= static_cast<std::size_t>(context.th.clippedSamples) && between &&
                largest - values[i - 1] > steep && largest - values[last + 1] > steep)
                found.push_back({i, last});
            i = last;
            done = last + 1;
        }
    }
    if (found.empty() || !manyValues(context, q, whole)) return;
    const auto others = static_cast<double>(mostFrequentBelow(values, context.th.clippedAbove * largest, largest));
    if (static_cast<double>(times) < context.th.clippedTimes * others) return;
    for (const Rows run : found)
        add(context, q, FaultSpan::Kind::Clipped, run);
}

} // namespace

void findImpossible(Context& context) {
    context.scans = scanAll(context);
    ChannelScans& scans = context.scans;
    for (const Quantity q : measured) {
        if (!context.has(q)) continue;
        const std::size_t from = context.out.faults.size();
        findOutOfRange(context, scans, q);
        for (std::size_t i = from; i < context.out.faults.size(); ++i)
            context.mask(q, {context.out.faults[i].startRow, context.out.faults[i].endRow});
        if (context.out.faults.size() > from) scans[q] = scanChannel(context[q]);
        const std::size_t ranged = context.out.faults.size();
        if (isTemperature(q)) findTooQuick(context, scans, q);
        for (std::size_t i = ranged; i < context.out.faults.size(); ++i)
            context.mask(q, {context.out.faults[i].startRow, context.out.faults[i].endRow});
        if (context.out.faults.size() > ranged) scans[q] = scanChannel(context[q]);
        context.poll();
    }
    for (const Quantity q : measured)
        if (context.has(q)) findSpikes(context, scans, q);
    join(context, 0);
}

bool findFrozen(Context& context) {
    const std::size_t from = context.out.faults.size();
    const ChannelScans& scans = context.scans;
    for (const Quantity q : measured) {
        if (!context.has(q) || q == Throttle || q == Output) continue;
        WholeChannel whole;
        if (!isTemperature(q)) findStuck(context, scans, q, whole);
        findClipped(context, scans, q, whole);
        context.poll();
    }
    for (std::size_t i = from; i < context.out.faults.size(); ++i)
        context.mask(context.out.faults[i].quantity, {context.out.faults[i].startRow, context.out.faults[i].endRow});
    join(context, from);
    return context.out.faults.size() > from;
}

void findMissing(Context& context) {
    std::vector<FaultSpan> found;
    for (const Quantity q : measured) {
        const Channel& channel = context.log[q];
        if (channel.missing == 0 || channel.missing == channel.values.size()) continue;
        const auto& values = channel.values;
        for (const ReviewPass& pass : context.out.passes) {
            const Rows session = context.scale[pass.session].rows;
            const auto valid = [&](std::size_t i) { return !std::isnan(values[i]); };
            bool any = false;
            for (std::size_t i = session.first; i <= session.last && !any; ++i)
                any = valid(i);
            if (!any) continue; // this session has no such quantity
            const double least = std::max(context.th.missingSpan, context.th.missingIntervals * channel.interval_s);
            forEachRun(
                context.rows(pass), [&](std::size_t i) { return !valid(i); },
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
