// Spans in which the low-voltage cutoff took power. What counts is the voltage at which the power began to fall: once
// it is taken the voltage recovers.
#include "core/review/context.h"
#include "core/review/findings.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

// Rows of a pass over which the throttle stays within two points of the most that was asked since the first of them,
// and how a signal that should follow it falls.
class FallFinder {
public:
    FallFinder(const Context& context, const ReviewPass& pass, CutSpan::Of of)
        : context_(context)
        , rows_(context.rows(pass))
        , of_(of)
        , zero_(of == CutSpan::Of::Current ? context.scale[pass.session].rest.zero.value_or(0.0) : 0.0)
        , values_(context[of == CutSpan::Of::Current ? PackCurrent : Output])
        , throttle_(context[Throttle])
        , speed_(context[MotorSpeed]) {}

    // least: 0..1, points of output or share of current. accept(row where the fall starts, row where it is that deep).
    template<class Accept>
    [[nodiscard]] std::vector<CutSpan> find(double least, double within, Accept accept) const {
        std::vector<CutSpan> spans;
        SlidingRange high(values_), throttle(throttle_);
        std::size_t from = rows_.first;
        for (std::size_t i = rows_.first; i <= rows_.last; ++i) {
            high.push(i);
            throttle.push(i);
            while (context_.time[i] - context_.time[from] > within + timeEpsilon ||
                   (!throttle.empty() && throttle.high() - throttle_[i] > context_.th.cutoffThrottle + 1e-9)) {
                ++from;
                high.dropBefore(from);
                throttle.dropBefore(from);
            }
            if (high.empty() || !deep(high.high(), values_[i], least)) continue;
            const auto start = startOf(from, i, least);
            if (!start || !heldAfter(i) || (of_ == CutSpan::Of::Current && !collapses(*start, i, least)) ||
                !accept(*start, i))
                continue;
            spans.push_back(follow(*start, i));
            high.clear();
            throttle.clear();
            i = std::max(i, spans.back().rows.last);
            from = i + 1;
        }
        return spans;
    }

private:
    [[nodiscard]] double value(std::size_t row) const { return values_[row] - zero_; }
    [[nodiscard]] bool deep(double stood, double now, double least) const {
        if (of_ == CutSpan::Of::Output) return stood - now >= least - 1e-9;
        return stood - zero_ > 0.0 && now - zero_ <= (1.0 - least) * (stood - zero_) + 1e-9;
    }

    // Any launch loses current as speed rises: only what falls while speed does not counts. A car may gain speed until
    // the power is gone: then it is what follows that tells.
    [[nodiscard]] bool slower(std::size_t start, std::size_t row) const {
        if (speed_.empty()) return true;
        const std::size_t after =
            rowAt(context_.time, rows_, context_.time[row] + context_.th.cutoffHeldAfter + timeEpsilon) - 1;
        return notFaster(start, row) || (after > row && notFaster(row, after));
    }
    [[nodiscard]] bool notFaster(std::size_t then, std::size_t now) const {
        const double allowed = std::max(context_.th.cutoffSpeedSteady * speed_[then], context_.log[MotorSpeed].step);
        return speed_[now] <= speed_[then] + allowed + 1e-9;
    }

    // Where a fall that is deep at a row begins: the last sample near where it stood; none where it explains itself.
    [[nodiscard]] std::optional<std::size_t> startOf(std::size_t from, std::size_t row, double least) const {
        const std::size_t high = of_ == CutSpan::Of::Output ? highest(from, row) : steepFrom(from, row);
        if (high == row || !deep(values_[high], values_[row], least)) return {};
        const double stood = value(high);
        const double edge = of_ == CutSpan::Of::Output ? stood - context_.th.outputSteady
                                                       : (1.0 - context_.th.cutoffCurrentSteady) * stood;
        std::size_t start = row - 1;
        while (start > high && !(value(start) >= edge - 1e-9))
            --start;
        if (of_ == CutSpan::Of::Current && !slower(start, row)) return {};
        return start;
    }
    [[nodiscard]] std::size_t highest(std::size_t from, std::size_t row) const {
        std::size_t high = row;
        for (std::size_t j = row; j-- > from;)
            if (values_[j] > values_[high]) high = j;
        return high;
    }
    // A current declines by itself before it is taken: back from its lowest to where its fall was not steep yet, and to
    // where it stood just then. The row itself: it is not this fall's.
    [[nodiscard]] std::size_t steepFrom(std::size_t from, std::size_t row) const {
        constexpr double over = 0.1;  // s, or one sample
        constexpr double steep = 0.3; // of the steepest
        const auto earlier = [&](std::size_t k) {
            return std::max(rowAt(context_.time, rows_, context_.time[k] - over - timeEpsilon), from);
        };
        const auto slope = [&](std::size_t k) {
            const std::size_t before = std::min(earlier(k), k - 1);
            return (values_[before] - values_[k]) / (context_.time[k] - context_.time[before]);
        };
        std::size_t lowest = row;
        for (std::size_t k = row; k <= rows_.last && context_.time[k] <= context_.time[row] + 2.0 * over; ++k)
            if (values_[k] < values_[lowest]) lowest = k;
        std::size_t start = from;
        double steepest = 0.0;
        for (std::size_t k = from + 1; k <= lowest; ++k)
            if (slope(k) > steepest) steepest = slope(k), start = k;
        while (start > from && slope(start) >= steep * steepest)
            --start;
        if (start >= row) return row;
        std::size_t high = start;
        if (start > from && earlier(start) + 1 < start)
            for (std::size_t k = earlier(start); k < start; ++k)
                if (values_[k] > values_[high]) high = k;
        return high;
    }

    // No flicker of a small current, and no decline that went on just as fast before: a car that reaches its top speed.
    [[nodiscard]] bool collapses(std::size_t start, std::size_t row, double least) const {
        const auto level = [&](double from, double to) {
            const std::size_t first = rowAt(context_.time, rows_, from - timeEpsilon);
            const std::size_t end = rowAt(context_.time, rows_, to + timeEpsilon);
            return end <= first ? nan : medianOver(values_, {first, end - 1}) - zero_;
        };
        const double at = context_.time[start], now = context_.time[row], around = context_.th.cutoffHeldAfter;
        if (!(level(now, now + around) <= (1.0 - least) * level(at - around, at) + 1e-9)) return false;
        const std::size_t early = rowAt(context_.time, rows_, at - 1.5 * around);
        if (early >= start) return true;
        const double before = (value(early) - value(start)) / (at - context_.time[early]);
        return !(before > context_.th.rampKink * (value(start) - value(row)) / (now - at));
    }

    // The driver did not let go just then.
    [[nodiscard]] bool heldAfter(std::size_t row) const {
        for (std::size_t i = row + 1;
             i <= rows_.last && context_.time[i] - context_.time[row] <= context_.th.cutoffHeldAfter + timeEpsilon; ++i)
            if (throttle_[i] < throttle_[row] - context_.th.cutoffThrottle - 1e-9) return false;
        return true;
    }

    // On until it is back, or the throttle closes, or the pass ends.
    [[nodiscard]] CutSpan follow(std::size_t start, std::size_t row) const {
        const ReviewThresholds& th = context_.th;
        CutSpan span{{start, row}};
        span.of = of_;
        span.stood = value(start);
        span.low = value(row);
        const double asked = throttle_[row], gone = (1.0 - th.cutoffHard) * span.stood;
        const double edge =
            of_ == CutSpan::Of::Output ? span.stood - th.cutoffFall : (1.0 - th.cutoffCurrentBack) * span.stood;
        double goneFor = 0.0;
        std::size_t last = row;
        for (std::size_t i = start + 1; i <= rows_.last; ++i) {
            last = i;
            const bool held = throttle_[i] >= asked - th.cutoffThrottle - 1e-9;
            if (held && !std::isnan(value(i))) {
                span.low = std::min(span.low, value(i));
                const bool nothing = value(i) <= gone + 1e-9;
                goneFor = nothing ? goneFor + context_.time[i] - context_.time[i - 1] : 0.0;
                const double least = of_ == CutSpan::Of::Output ? 0.0 : th.cutoffHardSpan;
                span.hard = span.hard || (nothing && goneFor >= least - timeEpsilon);
            }
            if (throttle_[i] < th.passEdge) break;
            // Output that reaches what a driver asks for, who lets go slowly, is back too.
            const double enough = of_ == CutSpan::Of::Output ? std::min(edge, throttle_[i] - th.cutoffFall) : edge;
            if (i > row && value(i) > enough + 1e-9) break;
        }
        span.rows.last = last;
        return span;
    }

    const Context& context_;
    Rows rows_;
    CutSpan::Of of_;
    double zero_;
    std::span<const double> values_, throttle_, speed_;
};

// V at the start of a fall: of the sample there or the next, which may see the dip that set it off.
double voltageAt(const Context& context, std::size_t row) {
    const auto voltage = context[PackVoltage];
    return std::fmin(voltage[row], row + 1 < voltage.size() ? voltage[row + 1] : nan);
}

// How far the medians of a run's quarters lie apart.
double driftOver(std::span<const double> values, Rows run) {
    Range levels;
    constexpr std::size_t parts = 4;
    for (std::size_t k = 0; k < parts; ++k) {
        const Rows part{run.first + k * run.count() / parts, run.first + (k + 1) * run.count() / parts - 1};
        if (part.last < part.first || part.last > run.last) continue;
        const double level = medianOver(values, part);
        levels = {std::fmin(levels.low, level), std::fmax(levels.high, level)};
    }
    return levels.span();
}

// Voltage that lies at the cutoff while the output is held under a full throttle.
std::vector<CutSpan> heldSpans(const Context& context, const ReviewPass& pass, double cutoff, int cells) {
    const ReviewThresholds& th = context.th;
    const auto voltage = context[PackVoltage], throttle = context[Throttle], output = context[Output];
    const auto lies = [&](std::size_t i) {
        return std::abs(voltage[i] - cutoff * cells) <= th.cutoffLies * cells + 1e-9 &&
               throttle[i] >= th.fullThrottle - 1e-9 && output[i] <= throttle[i] - th.cutoffUnder + 1e-9;
    };
    const Rows rows = context.rows(pass);
    // One odd sample does not end it.
    const auto nearly = [&](std::size_t i) {
        return lies(i) || (i > rows.first && i < rows.last && lies(i - 1) && lies(i + 1));
    };
    std::vector<CutSpan> spans;
    const auto held = [&](Rows run) {
        if (context.time[run.last] - context.time[run.first] < th.cutoffLiesSpan - timeEpsilon) return false;
        const double range = rangeOver(output, run).span();
        if (range <= th.outputSteady + 1e-9 || stillRising(context, pass, run)) return false;
        // A regulator that lets the output rise as the car gains speed holds the voltage; else it only passes by.
        const bool rises = output[run.last] - output[run.first] > range / 2.0;
        return !rises || driftOver(voltage, run) <= th.cutoffPinned * cells;
    };
    forEachRun(rows, nearly, [&](Rows run) {
        // The way there may lie near it too: what is held is then the part that stands still. What drifts along a line
        // through this band is not.
        constexpr double band = 1.5;
        if (!held(run))
            run = longestSteady(context.time, voltage, run, band * th.cutoffPinned * cells, [](std::size_t) {
                      return true;
                  }).rows;
        if (!held(run)) return;
        spans.push_back({run, false, false, CutSpan::Of::Held, std::fmax(0.0, rangeOver(throttle, run).high),
                         rangeOver(output, run).low});
    });
    return spans;
}

// Spans that touch are one; what fell tells more than what was held.
std::vector<CutSpan> joined(const Context& context, std::vector<CutSpan> spans) {
    std::ranges::sort(spans, [](const CutSpan& a, const CutSpan& b) { return a.rows.first < b.rows.first; });
    std::vector<CutSpan> all;
    for (const CutSpan& span : spans) {
        if (all.empty() ||
            context.time[span.rows.first] - context.time[all.back().rows.last] > context.th.cutoffJoin + timeEpsilon) {
            all.push_back(span);
            continue;
        }
        CutSpan& before = all.back();
        if (before.of == CutSpan::Of::Held && span.of != CutSpan::Of::Held)
            before.of = span.of, before.stood = span.stood;
        before.rows.last = std::max(before.rows.last, span.rows.last);
        before.low = std::min(before.low, span.low);
        before.hard = before.hard || span.hard;
    }
    return all;
}

// Slow and something over its comfort temperature: heat explains it as well.
bool heatExplains(const Context& context, const ReviewPass& pass, Rows fall) {
    if (context.time[fall.last] - context.time[fall.first] < context.th.heatSpan - timeEpsilon) return false;
    const PlanInput& limits = context.limits(pass.session);
    const auto hot = [&](Quantity q, double comfort) {
        return context.has(q) && context[q][fall.first] >= kelvinFromCelsius(comfort);
    };
    return hot(ControllerTemperature, limits.controller.comfort_C) || hot(MotorTemperature, limits.motor.comfort_C);
}

// Wheels that come down again draw a spike of current, which falls while the motor slows.
bool landing(const Context& context, std::size_t p, std::size_t row) {
    constexpr double after = 0.5; // s
    return std::ranges::any_of(context.unloaded[p], [&](Rows span) {
        return row + 1 >= span.first && context.time[row] <= context.time[span.last] + after;
    });
}

std::vector<CutSpan> spansOf(const Context& context, std::size_t p, int cells) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto cutoff = context.cutoff(pass.session);
    const bool byOutput = context.has(Output);
    const FallFinder finder(context, pass, byOutput ? CutSpan::Of::Output : CutSpan::Of::Current);
    // Speed that comes too seldom stands still between its values, whatever the motor does.
    const bool blind =
        !byOutput && !(context.has(MotorSpeed) && context.log[MotorSpeed].interval_s <= th.cutoffSpeedInterval);
    const double within = blind ? th.cutoffBlindWithin : th.cutoffFallWithin;
    const double usual = byOutput ? (cutoff ? th.cutoffFall : th.cutoffUnknownFall)
                                  : (cutoff ? th.cutoffCurrentFall : th.cutoffUnknownCurrentFall);
    const double least = blind ? std::max(usual, th.cutoffBlindFall) : usual;
    const double highest = cutoff ? *cutoff + th.cutoffNear : th.cutoffUnknownVoltage;
    auto spans = finder.find(least, within, [&](std::size_t start, std::size_t deep) {
        if (!cutoff && heatExplains(context, pass, {start, deep})) return false;
        if (!byOutput && landing(context, p, start)) return false;
        return voltageAt(context, start) <= highest * cells + 1e-9;
    });
    for (CutSpan& span : spans)
        span.guessed = !cutoff;
    if (cutoff && byOutput) {
        const auto held = heldSpans(context, pass, *cutoff, cells);
        spans.insert(spans.end(), held.begin(), held.end());
    }
    return joined(context, std::move(spans));
}

} // namespace

void findCutoffSpans(Context& context) {
    context.cut.assign(context.out.passes.size(), {});
    if (!context.has(PackVoltage) || !context.has(Throttle) || !(context.has(Output) || context.has(PackCurrent)))
        return;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (const auto cells = context.cells(pass.session)) context.cut[p] = spansOf(context, p, *cells);
    }
}

} // namespace rw::review
