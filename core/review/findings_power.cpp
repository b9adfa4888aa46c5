// Output that stays under what is asked for: endpoints, ramps, limits of current and of heat.
#include "core/review/context.h"
#include "core/review/findings.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

struct Limited {
    Rows rows;
    double level = 0.0; // A
    Quantity quantity = PackCurrent;
};

// The longest stretch that the predicate takes over which the current stays within 3 %, or 1 A, of its median.
template<class Take>
Rows flattest(const Context& context, Quantity q, Rows rows, Take take) {
    const auto current = context[q];
    Stretch best = longestEven(context.time, current, rows, take, [&](const SlidingRange& range) {
        const double middle = range.empty() ? 0.0 : (range.high() + range.low()) / 2.0;
        return range.range() > 2.0 * std::max(context.th.limitedFlat * middle, context.th.limitedFlatAmperes) + 1e-9;
    });
    if (best.seconds < 0.0) return {rows.first, rows.first};
    // Its ends may lie further from the median than from the middle.
    const double level = medianOver(context[q], best.rows),
                 within = std::max(context.th.limitedFlat * level, context.th.limitedFlatAmperes) + 1e-9;
    while (best.rows.first < best.rows.last && !(std::abs(current[best.rows.first] - level) <= within))
        ++best.rows.first;
    while (best.rows.last > best.rows.first && !(std::abs(current[best.rows.last] - level) <= within))
        --best.rows.last;
    return best.rows;
}

// An endpoint holds the output at one value, whatever the current does.
bool endpoint(const Context& context, Rows pass, const Limited& found) {
    const ReviewThresholds& th = context.th;
    const auto output = context[Output], throttle = context[Throttle], current = context[found.quantity];
    const double asked = medianOver(context[Throttle], found.rows) - th.cutoffThrottle - 1e-9;
    double low = std::numeric_limits<double>::infinity(), high = -low;
    std::size_t less = 0, stays = 0;
    for (std::size_t i = pass.first; i <= pass.last; ++i) {
        if (!(throttle[i] >= asked) || std::isnan(output[i])) continue;
        low = std::min(low, output[i]);
        high = std::max(high, output[i]);
        if (i <= found.rows.last || !(current[i] <= (1.0 - th.limitedEndpoint) * found.level)) continue;
        ++less;
        stays += std::abs(output[i] - output[found.rows.last]) <= th.outputSteady + 1e-9 ? 1 : 0;
    }
    return high - low <= th.outputSteady + 1e-9 || (less >= 2 && 2 * stays > less);
}

// Current that stays near its largest while the output is under the throttle and voltage is no reason.
std::optional<Limited> currentLimit(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto cells = context.cells(pass.session);
    if (!cells) return {};
    const auto cutoff = context.cutoff(pass.session);
    const double least = *cells * (cutoff ? *cutoff + th.limitedVoltage : th.cutoffUnknownVoltage);
    const auto throttle = context[Throttle], output = context[Output], voltage = context[PackVoltage];
    for (const Quantity q : {MotorCurrent, PackCurrent}) {
        const auto peak = q == MotorCurrent ? pass.motorPeakCurrent : pass.peakCurrent;
        if (!peak || !(*peak > 0.0)) continue;
        const auto held = [&](std::size_t i) {
            return output[i] <= throttle[i] - th.limitedUnder + 1e-9 && throttle[i] > th.passThrottle &&
                   voltage[i] > least && context[q][i] >= (1.0 - th.limitedFlat) * th.limitedShare * *peak;
        };
        const Rows flat = flattest(context, q, context.rows(pass), held);
        if (context.time[flat.last] - context.time[flat.first] < th.limitedSpan - timeEpsilon ||
            meetsCut(context, p, flat))
            continue;
        const Limited found{flat, medianOver(context[q], flat), q};
        if (found.level < th.limitedShare * *peak || endpoint(context, context.rows(pass), found) ||
            stillRising(context, pass, flat))
            continue;
        return found;
    }
    return {};
}

// A cutoff lets go slowly: what lies just beside it is its doing.
bool besideCut(const Context& context, std::size_t p, Rows rows) {
    return std::ranges::any_of(context.cut[p], [&](const CutSpan& span) {
        return context.time[rows.first] <= context.time[span.rows.last] + context.th.cutoffBeside &&
               context.time[span.rows.first] <= context.time[rows.last] + context.th.cutoffBeside;
    });
}

// Output on its way up crosses any band of a point; it does not stand there.
bool passesThrough(const Context& context, std::size_t p, Rows rows) {
    const auto output = context[Output], throttle = context[Throttle];
    const Rows pass = context.rows(context.out.passes[p]);
    if (rows.first == pass.first || rows.last == pass.last || throttle[rows.last + 1] < context.th.fullThrottle)
        return false;
    const Range range = rangeOver(output, rows);
    const std::size_t third = rows.count() / 3;
    const double drift = medianOver(context[Output], {rows.last - third, rows.last}) -
                         medianOver(context[Output], {rows.first, rows.first + third});
    constexpr double least = 0.3; // of the band
    return output[rows.first - 1] < range.low && output[rows.last + 1] > range.high &&
           drift > least * context.th.outputSteady;
}

// The current lies at a limit that the plan sets: that holds the output, however shortly.
bool atPlannedLimit(const Context& context, const ReviewPass& pass, Rows rows) {
    if (!context.planCounts(pass.session)) return false;
    const auto at = [&](Quantity q, std::optional<double> limit) {
        if (!limit || !context.has(q)) return false;
        const double within = std::max(context.th.limitedFlat * *limit, context.th.limitedFlatAmperes);
        return std::abs(medianOver(context[q], rows) - *limit) <= within;
    };
    const auto& controller = context.plan.controller;
    return at(MotorCurrent, controller.motor_current_limit_A) || at(PackCurrent, controller.pack_current_limit_A);
}

void judgeOutput(Context& context, std::size_t p, bool limited) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto throttle = context[Throttle], output = context[Output];
    const double full = fullLevel(context, Output);
    const Stretch steady =
        longestSteady(context.time, output, context.rows(pass), th.outputSteady + 1e-9,
                      [&](std::size_t i) { return throttle[i] >= th.fullThrottle - 1e-9 && output[i] < full; });
    if (steady.seconds < th.outputBelowSpan - timeEpsilon || limited || besideCut(context, p, steady.rows) ||
        atPlannedLimit(context, pass, steady.rows) || passesThrough(context, p, steady.rows))
        return;
    reportPass(
        context, "output-below-full", Severity::Watch, p, {steady.rows.first, steady.rows.first, steady.rows.last},
        {"Output stood at " + percent(medianOver(context[Output], steady.rows), 1) + " for " + seconds(steady.seconds) +
             " while the throttle was full.",
         "full throttle for " + seconds(th.outputBelowSpan, 1) + ", output steady below " + percent(th.fullOutput, 1)},
        Output);
}

// Largest distance of the throttle from the straight line between its 10 % and 90 % marks, as a share of the step.
bool ramped(const Context& context, const ReviewPass& pass) {
    const auto throttle = context[Throttle];
    const Rows rows = context.rows(pass);
    const double level = throttle[rows.first], step = std::fmax(0.0, rangeOver(throttle, rows).high) - level;
    std::size_t last = rows.first;
    while (last < rows.last && !(throttle[last] >= level + 0.9 * step))
        ++last;
    std::size_t first = last;
    while (first > rows.first && !(throttle[first] <= level + 0.1 * step))
        --first;
    const auto since = [&](std::size_t i) { return context.time[i] - context.time[first]; };
    Line line;
    for (std::size_t i = first + 1; i < last; ++i)
        line.add(since(i), throttle[i]);
    if (!(line.xx > 0.0)) return false;
    for (std::size_t i = first + 1; i < last; ++i)
        if (std::abs(throttle[i] - line.y - line.xy / line.xx * (since(i) - line.x)) > context.th.throttleLine * step)
            return false;
    return true;
}

// Whether a rise of this many seconds is the one that the plan has: its ramp, or its controller's.
bool planned(const Context& context, const ReviewPass& pass, double rise) {
    if (!context.planCounts(pass.session)) return false;
    constexpr double share = 0.8; // of a straight ramp lies between 10 and 90 %
    const double rate = context.plan.controller.rate_per_s.value_or(std::numeric_limits<double>::infinity());
    const double step = 1.0 - context[Throttle][pass.startRow]; // less from a rolling start
    const double expected = share * step * std::max(context.plan.drive.throttle_ramp_s, 1.0 / rate);
    return std::abs(rise - expected) <= context.th.throttleExplained * expected;
}

// V per cell that a pack under 3.6 V lies at while the output, that rose faster before, is held under a full throttle:
// a cutoff that nobody told may do that.
std::optional<double> pinnedVoltage(const Context& context, const ReviewPass& pass, Rows rise) {
    const ReviewThresholds& th = context.th;
    const auto cells = context.cells(pass.session);
    if (!cells || context.cutoff(pass.session) || !context.has(Output) || !context.has(PackVoltage)) return {};
    const auto throttle = context[Throttle], output = context[Output], voltage = context[PackVoltage];
    const double band = 2.0 * th.cutoffPinned * *cells;
    const Stretch pinned = longestSteady(context.time, voltage, rise, band, [&](std::size_t i) {
        return voltage[i] < (th.cutoffUnknownVoltage + th.cutoffPinned) * *cells &&
               throttle[i] >= th.fullThrottle - 1e-9 && output[i] <= throttle[i] - th.cutoffUnder + 1e-9;
    });
    if (pinned.seconds < th.cutoffLiesSpan - timeEpsilon || stillRising(context, pass, pinned.rows)) return {};
    return medianOver(context[PackVoltage], pinned.rows) / *cells;
}

void judgeRise(Context& context, std::size_t p, const std::vector<HeatFall>& heat) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    if (!pass.throttleRise) return;
    const double throttle = *pass.throttleRise, output = pass.outputRise.value_or(0.0);
    const bool held = output > th.throttleSlow && output > th.throttleSlowRatio * throttle;
    const bool line = throttle > th.throttleSlow && ramped(context, pass);
    if ((!held && !line) || planned(context, pass, held ? output : throttle)) return;
    constexpr double share = 0.8; // of the rise is measured
    const std::size_t end =
        rowAt(context.time, context.rows(pass), context.time[pass.startRow] + std::max(output, throttle) / share);
    const Rows rise{pass.startRow, std::min(end, pass.endRow)};
    if (meetsCut(context, p, rise) ||
        std::ranges::any_of(heat, [&](const HeatFall& fall) { return fall.rows.meets(rise); }))
        return;
    // A tyre that can carry no more holds the output back as well: so foretold, it is no slow throttle.
    if (held && plannedRise(context, p).alike) return;
    if (const auto pinned = held ? pinnedVoltage(context, pass, rise) : std::nullopt) {
        cannotJudge(context, "throttle-slow", pass.session,
                    "the voltage lay at " + number(*pinned, 2) +
                        " V per cell while the output rose slowly: tell the cutoff, which may have held it back");
        return;
    }
    reportPass(context, "throttle-slow", Severity::Note, p, {rise.first, rise.first, rise.last},
               {held ? "Output took " + seconds(output) + " from 10 to 90 % of its step, the throttle " +
                           seconds(throttle) + "."
                     : "The throttle itself rose along a straight line for " + seconds(throttle) + ".",
                "over " + seconds(th.throttleSlow, 1) + ", and over " + plain(th.throttleSlowRatio, 1) +
                    " times the throttle's own rise, or along a line"},
               held ? Output : Throttle);
}

void reportCurrent(Context& context, std::size_t p, const Limited& found) {
    const ReviewThresholds& th = context.th;
    reportPass(context, "current-limited", Severity::Note, p, {found.rows.first, found.rows.first, found.rows.last},
               {std::string(found.quantity == MotorCurrent ? "Motor" : "Pack") + " current lay at " +
                    amperes(found.level) + " for " +
                    seconds(context.time[found.rows.last] - context.time[found.rows.first]) +
                    " while the output was under the throttle.",
                "within " + percent(th.limitedFlat) + " or " + amperes(th.limitedFlatAmperes, 0) + " for " +
                    seconds(th.limitedSpan, 1) + ", output " + percent(th.limitedUnder) + " under the throttle"},
               found.quantity);
}

void reportHeat(Context& context, std::size_t p, const HeatFall& fall) {
    const PlanInput& limits = context.limits(context.out.passes[p].session);
    const auto over = [&](Quantity q, double comfort) {
        return context.has(q) ? celsiusFromKelvin(context[q][fall.rows.first]) - comfort : nan;
    };
    const double overMotor = over(MotorTemperature, limits.motor.comfort_C),
                 overController = over(ControllerTemperature, limits.controller.comfort_C);
    const bool motorFirst = !(overController >= overMotor);
    const auto reads = [&](Quantity q) {
        return (q == MotorTemperature ? "the motor at " : "the controller at ") + degrees(context[q][fall.rows.first]);
    };
    const Quantity first = motorFirst ? MotorTemperature : ControllerTemperature,
                   second = motorFirst ? ControllerTemperature : MotorTemperature;
    Sentence seen = "At a steady throttle the output began to fall with " + reads(first);
    if (!std::isnan(motorFirst ? overController : overMotor)) seen += " and " + reads(second);
    seen += ", from " + percent(fall.stood) + " to " + percent(fall.low) + ".";
    reportPass(context, "heat-limited", Severity::Watch, p, {fall.rows.first, fall.rows.first, fall.rows.last},
               {seen, "output falls by " + percent(context.th.heatFall) + " over at least " +
                          seconds(context.th.heatSpan, 1) +
                          " at steady throttle, the voltage rising, while a temperature rises"},
               first);
}

bool canLimitByHeat(Context& context) {
    if (!needs(context, "heat-limited", {Throttle, Output, PackVoltage})) return false;
    if (context.has(ControllerTemperature) || context.has(MotorTemperature)) return true;
    cannotJudge(context, "heat-limited", {}, "the log has neither controller nor motor temperature");
    return false;
}

bool canLimitByCurrent(Context& context) {
    if (!needs(context, "current-limited", {Throttle, Output, PackVoltage})) return false;
    return context.has(MotorCurrent) || needs(context, "current-limited", {PackCurrent});
}

} // namespace

void judgePower(Context& context) {
    if (context.out.passes.empty()) return;
    const bool output = needs(context, "output-below-full", {Throttle, Output});
    const bool rise = needs(context, "throttle-slow", {Throttle});
    const bool current = canLimitByCurrent(context), heat = canLimitByHeat(context);
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const std::size_t session = context.out.passes[p].session;
        auto byCurrent =
            current && needsCells(context, "current-limited", session) ? currentLimit(context, p) : std::nullopt;
        // Tyres that carry no more keep the current level, too.
        const PlannedRise foretold = byCurrent ? plannedRise(context, p) : PlannedRise{};
        if (foretold.alike && foretold.byTyres) byCurrent.reset();
        const bool mayHeat = heat && needsCells(context, "heat-limited", session) && !byCurrent;
        const auto byHeat = mayHeat ? heatFalls(context, p) : std::vector<HeatFall>{};
        if (output) judgeOutput(context, p, byCurrent || !byHeat.empty());
        if (rise && !byCurrent) judgeRise(context, p, byHeat);
        if (byCurrent) reportCurrent(context, p, *byCurrent);
        for (const HeatFall& fall : byHeat)
            reportHeat(context, p, fall);
    }
}

} // namespace rw::review
