// Output that stays under what is asked for: endpoints, ramps, limits of current and of heat.
#include "core/review/findings.h"
#include "core/review/levels.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

bool meetsAny(const std::vector<CutSpan>& spans, Rows rows) {
    return std::any_of(spans.begin(), spans.end(), [&](const CutSpan& span) { return span.rows.meets(rows); });
}

struct Limited {
    Rows rows;
    double level = 0.0; // A or K
    Quantity quantity = PackCurrent;
};

// Current held flat near the pass's peak, entered steeply, while output is under the throttle and voltage is far above
// the cutoff.
std::optional<Limited> currentLimit(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    for (const Quantity q : {MotorCurrent, PackCurrent}) {
        if (!context.has(q) || !context.has(Throttle) || !context.has(Output)) continue;
        const auto current = context[q], throttle = context[Throttle], output = context[Output],
                   voltage = context[PackVoltage];
        const double peak = q == MotorCurrent ? pass.motorPeakCurrent.value_or(0.0) : pass.peakCurrent.value_or(0.0);
        if (!(peak > 0.0)) continue;
        const auto cells = context.cells(pass.session);
        const double cutoff = context.out.cutoffCell.value_or(th.cutoffUnknownVoltage - th.limitedVoltage);
        const double high = cells ? (cutoff + th.limitedVoltage) * *cells : 0.0;
        const auto held = [&](std::size_t i) {
            return output[i] <= throttle[i] - th.limitedUnder && current[i] >= (1.0 - 2.0 * th.limitedFlat) * peak &&
                   (voltage.empty() || !(voltage[i] < high)) && throttle[i] > th.passThrottle;
        };
        const Stretch flat =
            longestSteady(context.time, current, context.rows(pass), 2.0 * th.limitedFlat * peak, held);
        if (flat.seconds < th.limitedSpan - timeEpsilon || meetsAny(context.cut[p], flat.rows)) continue;
        const std::size_t before =
            rowAt(context.time, context.rows(pass), context.time[flat.rows.first] - th.limitedEntry);
        std::vector<double> scratch;
        const double level = medianWhere(
            current, flat.rows, [](std::size_t) { return true; }, scratch);
        if (!(current[std::min(before, flat.rows.first)] <= level - th.limitedSteep * peak)) continue;
        return Limited{flat.rows, level, q};
    }
    return {};
}

// Output that leaves a steady throttle while controller or motor is over its comfort temperature.
std::optional<Limited> heatLimit(const Context& context, std::size_t p) {
    if (!context.has(Throttle) || !context.has(Output)) return {};
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto throttle = context[Throttle], output = context[Output], voltage = context[PackVoltage];
    const auto cells = context.cells(pass.session);
    const Rows rows = context.rows(pass);
    double highest = 0.0;
    for (std::size_t i = rows.first; i <= rows.last; ++i) {
        if (!(output[i] >= throttle[i] - th.limitedUnder / 2.0)) {
            // Under the throttle: was it not, a moment ago, at the same throttle?
            std::size_t last = i;
            while (last < rows.last && output[last + 1] <= highest - th.limitedUnder &&
                   std::abs(throttle[last + 1] - throttle[i]) <= th.cutoffThrottle)
                ++last;
            const bool left = output[i] <= highest - th.limitedUnder &&
                              context.time[last] - context.time[i] >= th.limitedSpan - timeEpsilon;
            const double near =
                cells && context.out.cutoffCell ? (*context.out.cutoffCell + th.cutoffNear) * *cells : 0.0;
            const bool low = !voltage.empty() && voltage[i] < near;
            if (left && !low && !meetsAny(context.cut[p], {i, last})) {
                for (const Quantity q : {ControllerTemperature, MotorTemperature}) {
                    const double comfort = kelvinFromCelsius(
                        q == MotorTemperature ? context.limits.motor.comfort_C : context.limits.controller.comfort_C);
                    if (context.has(q) && context[q][i] >= comfort) return Limited{{i, last}, context[q][i], q};
                }
            }
            continue;
        }
        highest = std::max(
            i > rows.first && std::abs(throttle[i] - throttle[i - 1]) > th.cutoffThrottle ? 0.0 : highest, output[i]);
    }
    return {};
}

void judgeOutput(Context& context, std::size_t p, bool limited) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto throttle = context[Throttle], output = context[Output];
    const double full = fullLevel(context, Output);
    const Stretch steady =
        longestSteady(context.time, output, context.rows(pass), th.outputSteady + 1e-9,
                      [&](std::size_t i) { return throttle[i] >= th.fullThrottle - 1e-9 && output[i] < full; });
    if (steady.seconds < th.outputBelowSpan - timeEpsilon || limited || meetsAny(context.cut[p], steady.rows)) return;
    std::vector<double> scratch;
    const double level = medianWhere(
        output, steady.rows, [](std::size_t) { return true; }, scratch);
    reportPass(
        context, "output-below-full", Severity::Watch, p, {steady.rows.first, steady.rows.first, steady.rows.last},
        {"Output stood at " + percent(level, 1) + " for " + number(steady.seconds, 2) +
             " s while the throttle was full.",
         "full throttle for " + number(th.outputBelowSpan, 1) + " s, output steady below " + percent(th.fullOutput, 1)},
        Output);
}

// Largest distance of the throttle from the straight line between its 10 % and 90 % marks, as a share of the step.
bool ramped(const Context& context, const ReviewPass& pass) {
    const auto throttle = context[Throttle];
    const Rows rows = context.rows(pass);
    double top = 0.0;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        top = std::max(top, throttle[i]);
    const double level = throttle[rows.first], step = top - level;
    std::size_t last = rows.first;
    while (last < rows.last && !(throttle[last] >= level + 0.9 * step))
        ++last;
    std::size_t first = last;
    while (first > rows.first && !(throttle[first] <= level + 0.1 * step))
        --first;
    double n = 0.0, t1 = 0.0, v1 = 0.0, tt = 0.0, tv = 0.0;
    for (std::size_t i = first + 1; i < last; ++i) {
        n += 1.0;
        const double t = context.time[i] - context.time[first], dt = t - t1, dv = throttle[i] - v1;
        t1 += dt / n;
        v1 += dv / n;
        tt += dt * (t - t1);
        tv += dt * (throttle[i] - v1);
    }
    if (!(tt > 0.0)) return false;
    for (std::size_t i = first + 1; i < last; ++i)
        if (std::abs(throttle[i] - v1 - tv / tt * (context.time[i] - context.time[first] - t1)) >
            context.th.throttleLine * step)
            return false;
    return true;
}

void judgeRise(Context& context, std::size_t p, bool limited) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    if (limited || !context.cut[p].empty() || !pass.throttleRise) return;
    const double throttle = *pass.throttleRise, output = pass.outputRise.value_or(0.0);
    const bool held = output > th.throttleSlow && output > th.throttleSlowRatio * throttle;
    const bool line = throttle > th.throttleSlow && ramped(context, pass);
    if (!held && !line) return;
    if (context.hasPlan) {
        constexpr double share = 0.8; // of a straight ramp lies between 10 and 90 %
        const double rate = context.limits.controller.rate_per_s.value_or(std::numeric_limits<double>::infinity());
        const double expected = share * std::max(context.limits.drive.throttle_ramp_s, 1.0 / rate);
        const double slow = held ? output : throttle;
        if (std::abs(slow - expected) <= th.throttleExplained * expected) return;
    }
    const std::string seen = held ? "Output took " + number(output, 2) +
                                        " s from 10 to 90 % of its step, the throttle " + number(throttle, 2) + " s."
                                  : "The throttle itself rose along a straight line for " + number(throttle, 2) + " s.";
    reportPass(context, "throttle-slow", Severity::Note, p,
               {pass.startRow, pass.startRow,
                rowAt(context.time, context.rows(pass), context.time[pass.startRow] + std::max(output, throttle))},
               {seen, "over " + number(th.throttleSlow, 1) + " s, and over " + number(th.throttleSlowRatio, 1) +
                          " times the throttle's own rise, or along a line"},
               held ? Output : Throttle);
}

} // namespace

void judgePower(Context& context) {
    if (context.out.passes.empty()) return;
    const bool output = needs(context, "output-below-full", {Throttle, Output});
    const bool rise = needs(context, "throttle-slow", {Throttle, Output});
    const bool current = needs(context, "current-limited", {Throttle, Output, PackCurrent});
    bool heat = needs(context, "heat-limited", {Throttle, Output});
    if (heat && !context.has(ControllerTemperature) && !context.has(MotorTemperature)) {
        cannotJudge(context, "heat-limited", {}, "the log has neither controller nor motor temperature");
        heat = false;
    }
    const ReviewThresholds& th = context.th;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const auto byCurrent = current ? currentLimit(context, p) : std::nullopt;
        const auto byHeat = heat && !byCurrent ? heatLimit(context, p) : std::nullopt;
        const bool limited = byCurrent || byHeat;
        if (output) judgeOutput(context, p, limited);
        if (rise) judgeRise(context, p, limited);
        if (byCurrent)
            reportPass(
                context, "current-limited", Severity::Note, p,
                {byCurrent->rows.first, byCurrent->rows.first, byCurrent->rows.last},
                {std::string(byCurrent->quantity == MotorCurrent ? "Motor" : "Pack") + " current lay flat at " +
                     number(byCurrent->level, 1) + " A for " +
                     number(context.time[byCurrent->rows.last] - context.time[byCurrent->rows.first], 2) +
                     " s while the output was under the throttle.",
                 "flat within " + percent(th.limitedFlat) + " of its peak for " + number(th.limitedSpan, 1) + " s"},
                byCurrent->quantity);
        if (byHeat)
            reportPass(context, "heat-limited", Severity::Watch, p,
                       {byHeat->rows.first, byHeat->rows.first, byHeat->rows.last},
                       {"The output left a steady throttle when the " +
                            std::string(byHeat->quantity == MotorTemperature ? "motor" : "controller") + " reached " +
                            celsius(byHeat->level) + ".",
                        "output falls by " + percent(th.limitedUnder) +
                            " at steady throttle while a temperature is over comfort"},
                       byHeat->quantity);
    }
}

} // namespace rw::review
