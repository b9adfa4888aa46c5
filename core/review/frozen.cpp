// Spans in which a channel stands still while the car does not: stuck on a value, or run into the end of its range.
#include "core/review/faults.h"

#include <cmath>
#include <utility>

namespace rw::review {

namespace {

using enum Quantity;

bool countManyValues(const Context& context, std::span<const double> values) {
    std::vector<double> seen; // rising
    const auto enough = static_cast<std::size_t>(context.th.distinctValues);
    double before = nan;
    for (const double value : values) {
        if (std::isnan(value) || value == std::exchange(before, value)) continue;
        const auto place = std::ranges::lower_bound(seen, value);
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
    return std::ranges::any_of(movers, [&](Quantity other) {
        return other != q && context.has(other) &&
               rangeOver(context[other], run).span() > context.th.stuckOther * scans[other].span();
    });
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
    const auto behind =
        std::ranges::partition_point(context.scale, [row](const SessionScale& scale) { return scale.rows.last < row; });
    return static_cast<std::size_t>(std::min(behind, context.scale.end() - 1) - context.scale.begin());
}

// A controller that holds its current back draws a flat top as well, one that holds the voltage at its cutoff a flat
// bottom: its output shows it.
bool mayBeHeld(const Context& context, Quantity q, Rows run) {
    if (q == PackCurrent || q == MotorCurrent || q == Power) return true;
    const std::size_t session = sessionOf(context, run.first);
    const auto cells = context.cells(session);
    if (q != PackVoltage || !cells) return false;
    const double cell = context[PackVoltage][run.first] / *cells;
    const auto cutoff = context.cutoff(session);
    return cutoff ? std::abs(cell - *cutoff) <= context.th.cutoffLies : cell < context.th.cutoffUnknownVoltage;
}
bool heldByController(const Context& context, Quantity q, Rows run) {
    if (!mayBeHeld(context, q, run) || !context.has(Output) || !context.has(Throttle)) return false;
    const double under = q == PackVoltage ? context.th.cutoffUnder : context.th.limitedUnder;
    std::size_t held = 0;
    for (std::size_t i = run.first; i <= run.last; ++i)
        held += context[Output][i] <= context[Throttle][i] - under ? 1 : 0;
    return 2 * held > run.count() && rangeOver(context[Output], run).span() > context.th.outputSteady;
}

void judgeStuck(Context& context, const ChannelScans& scans, Quantity q, Rows run, WholeChannel& whole) {
    const std::size_t session = sessionOf(context, run.first);
    run.last = std::min(run.last, context.scale[session].rows.last);
    if (!longEnough(context, run) || !manyValues(context, q, whole)) return;
    // A quantised channel may well rest on one value: only what lies under load counts.
    Rows load = run;
    while (load.first < load.last && !loaded(context, session, load.first))
        ++load.first;
    while (load.last > load.first && !loaded(context, session, load.last))
        --load.last;
    if (!longEnough(context, load) || !anotherMoves(context, scans, q, load)) return;
    if (!whole.lively) whole.lively = liveliness(context, q);
    const auto elsewhere = static_cast<double>(whole.lively->rows) - static_cast<double>(load.count());
    if (elsewhere <= 0.0 || static_cast<double>(whole.lively->changes) * context.th.stuckChange < elsewhere) return;
    // What ran into the end of its range is told as that.
    if (std::ranges::any_of(context.out.faults, [&](const FaultSpan& fault) {
            return fault.quantity == q && fault.kind == FaultSpan::Kind::Clipped &&
                   run.meets({fault.startRow, fault.endRow});
        }))
        return;
    if (heldByController(context, q, load)) return;
    if (context.time[load.first] - context.time[run.first] > context.th.stuckSpan) run.first = load.first;
    if (context.time[run.last] - context.time[load.last] > context.th.stuckSpan) run.last = load.last;
    addFault(context, q, FaultSpan::Kind::Stuck, run);
}

void findStuck(Context& context, const ChannelScans& scans, Quantity q, WholeChannel& whole) {
    const auto& values = context[q];
    std::size_t done = 0; // rows before it are judged
    for (std::size_t b = 0; b < scans[q].blocks.size(); ++b) {
        if (!scans[q].blocks[b].frozen) continue;
        if (whole.manyValues == false) return; // too coarse to be judged
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
    std::ranges::sort(high);
    std::size_t most = 0;
    for (std::size_t i = 0, j = 0; i < high.size(); i = j) {
        while (j < high.size() && high[j] == high[i])
            ++j;
        most = std::max(most, j - i);
    }
    return most;
}

// A channel that nears a value of its own settles there step by step, and may stay; one that is cut off runs into it.
// One that flickers would not stay still at all.
bool settles(const Context& context, Quantity q, Rows run) {
    constexpr std::size_t lead = 3; // samples before
    const auto& values = context[q];
    if (run.first < lead) return false;
    constexpr double stepsASample = 1.5;
    const double entry = (values[run.first] - values[run.first - lead]) / static_cast<double>(lead);
    return entry <= stepsASample * context.log[q].step + 1e-12;
}

// Share of a channel's changes that turn back, over rows under load: a smooth channel has few.
bool flickers(const Context& context, Quantity q) {
    const auto& values = context[q];
    std::size_t changes = 0, turns = 0;
    double before = 0.0;
    for (std::size_t s = 0; s < context.scale.size(); ++s)
        for (std::size_t i = context.scale[s].rows.first + 1; i <= context.scale[s].rows.last; ++i) {
            const double change = values[i] - values[i - 1];
            if (!(std::abs(change) > 0.0) || !loaded(context, s, i)) continue;
            ++changes;
            turns += change * before < 0.0 ? 1 : 0;
            before = change;
        }
    constexpr std::size_t oneIn = 5;
    return turns * oneIn > changes;
}

// At rest a quiet channel stands still by right.
bool loadedFor(const Context& context, Rows run, double samples) {
    const std::size_t session = sessionOf(context, run.first);
    std::size_t count = 0;
    for (std::size_t i = run.first; i <= run.last; ++i)
        count += loaded(context, session, i) ? 1 : 0;
    return static_cast<double>(count) >= samples;
}

std::vector<Rows> runsAtLargest(const Context& context, const ChannelScan& scan, Quantity q, std::size_t& times) {
    const auto& values = context[q];
    std::vector<Rows> found;
    std::size_t done = 0;
    for (std::size_t b = 0; b < scan.blocks.size(); ++b) {
        if (scan.blocks[b].high != scan.high) continue;
        const Rows rows = ChannelScan::rowsOf(b, values.size());
        for (std::size_t i = std::max(rows.first, done); i <= rows.last; ++i) {
            if (values[i] != scan.high) continue;
            std::size_t last = i;
            while (last + 1 < values.size() && values[last + 1] == scan.high)
                ++last;
            times += last - i + 1;
            if (loadedFor(context, {i, last}, context.th.clippedSamples)) found.push_back({i, last});
            i = last;
            done = last + 1;
        }
    }
    return found;
}

void findClipped(Context& context, const ChannelScans& scans, Quantity q, WholeChannel& whole) {
    const auto& values = context[q];
    const double largest = scans[q].high;
    std::size_t times = 0;
    const auto found = runsAtLargest(context, scans[q], q, times);
    if (found.empty() || !manyValues(context, q, whole)) return;
    const auto others = static_cast<double>(mostFrequentBelow(values, context.th.clippedAbove * largest, largest));
    if (static_cast<double>(times) < context.th.clippedTimes * others) return;
    if (!whole.lively) whole.lively = liveliness(context, q);
    const double elsewhere = static_cast<double>(whole.lively->rows) - static_cast<double>(times);
    if (elsewhere <= 0.0 || static_cast<double>(whole.lively->changes) * context.th.clippedChange < elsewhere) return;
    const bool flickering = flickers(context, q);
    for (const Rows run : found)
        if ((flickering || !settles(context, q, run)) && !heldByController(context, q, run))
            addFault(context, q, FaultSpan::Kind::Clipped, run);
}

} // namespace

bool findFrozen(Context& context) {
    const std::size_t from = context.out.faults.size();
    const ChannelScans& scans = context.scans;
    for (const Quantity q : judgedChannels) {
        if (!context.has(q) || q == Throttle || q == Output) continue;
        WholeChannel whole;
        findClipped(context, scans, q, whole);
        if (!isTemperature(q)) findStuck(context, scans, q, whole);
        context.poll();
    }
    const bool any = maskFaults(context, from);
    joinFaults(context, from);
    return any;
}

} // namespace rw::review
