// Against the plan: off-plan, and what the cutoff cost.
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/review/compare.h"
#include "core/review/findings.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace rw::review {

namespace {

// What is compared, in the order of the text. Widths are the least half width of the band.
struct Compared {
    std::string_view name;
    Dimension dimension = Dimension::Number;
    std::optional<double> seen, planned;
    double least = 0.0; // half width
    int decimals = 1;
    double spread = 0.0; // of the plan by its stated uncertainties, half of the 90 % band
    int peak = 0;        // 1 a largest, −1 a lowest: sampled too slowly, the true one lies beyond what was seen
};

struct Planned {
    std::optional<double> zone, peakSpeed, peakWheels, current, cell, motor; // wheels: m/s if nothing slipped
    double cutoffTime = 0.0;                                                 // s in which the cutoff holds it back
};
Planned run(const PlanInput& plan) {
    const PassSetup setup = passSetup(plan);
    const PassResult result = simulatePass(setup, startState(plan));
    return {result.zoneMean,
            result.peakSpeed,
            result.peakWheelSpeed * setup.tyre.radiusAt(result.peakWheelSpeed),
            result.peakPackCurrent,
            result.minCellVoltage,
            result.caseExit,
            result.bound.cutoff};
}

constexpr double half90 =
    1.6448536269514727; // half width of the 90 % interval of a normal variable, in standard deviations

// By how much each stated uncertainty, by itself, moves the figures.
struct Move {
    std::string key;
    Planned by;
};
std::optional<double> differenceOf(std::optional<double> a, std::optional<double> b, double sign) {
    return a && b ? std::optional(sign * (*a - *b)) : std::nullopt;
}
std::vector<Move> movesOf(const PlanInput& plan, const Planned& middle) {
    std::vector<Move> moves;
    // The pass's own start is measured, not planned.
    const std::set<std::string> measured{"start.motor_C", "start.controller_C", "start.pack_C", "pack.charge"};
    for (const auto& [key, deviation] : plan.uncertainty) {
        const PlanField* field = findPlanField(key);
        if (!field || !field->get || !field->set || measured.contains(key)) continue;
        const auto value = field->get(plan);
        if (!value) continue;
        PlanInput moved = plan;
        const double up = *value + deviation, sign = up <= field->high ? 1.0 : -1.0;
        field->set(moved, *value + sign * deviation);
        try {
            checkPlanInput(moved, "");
            const Planned other = run(moved);
            moves.push_back(
                {key,
                 {differenceOf(other.zone, middle.zone, sign), differenceOf(other.peakSpeed, middle.peakSpeed, sign),
                  differenceOf(other.peakWheels, middle.peakWheels, sign),
                  differenceOf(other.current, middle.current, sign), differenceOf(other.cell, middle.cell, sign),
                  differenceOf(other.motor, middle.motor, sign)}});
        } catch (const std::exception&) {
            continue; // a value that leaves the valid range widens nothing
        }
    }
    return moves;
}

// Half of the 90 % band, to first order, correlations in: what logs taught is known together, not one by one.
Planned bandOf(const PlanInput& plan, const Planned& middle) {
    const std::vector<Move> moves = movesOf(plan, middle);
    const auto half = [&](std::optional<double> Planned::*figure) {
        double sum = 0.0;
        for (const Move& move : moves)
            sum += std::pow((move.by.*figure).value_or(0.0), 2);
        const auto by = [&](const std::string& key) {
            const auto found = std::ranges::find(moves, key, &Move::key);
            return found == moves.end() ? 0.0 : (found->by.*figure).value_or(0.0);
        };
        for (const KeyCorrelation& pair : plan.correlation)
            sum += 2.0 * pair.coefficient * by(pair.first) * by(pair.second);
        return half90 * std::sqrt(std::max(0.0, sum));
    };
    return {half(&Planned::zone),    half(&Planned::peakSpeed), half(&Planned::peakWheels),
            half(&Planned::current), half(&Planned::cell),      half(&Planned::motor)};
}

std::optional<double> celsiusOf(std::optional<double> kelvin) {
    return kelvin ? std::optional<double>(celsiusFromKelvin(*kelvin)) : std::nullopt;
}

void comparePass(Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const PlanInput plan = plannedPass(context.foretelling(), pass);
    const Planned planned = run(plan), band = bandOf(plan, planned);
    const ReviewThresholds& th = context.th;
    const bool measured = pass.speedPeak.has_value();
    std::vector<Compared> figures{
        {"zone speed", Dimension::Speed, measured ? pass.zoneSpeed : std::nullopt, planned.zone,
         th.offPlanSpeed * planned.zone.value_or(0.0), 1, *band.zone},
        {"peak speed", Dimension::Speed, pass.speedPeakLowerBound ? std::nullopt : pass.speedPeak, planned.peakSpeed,
         th.offPlanSpeed * *planned.peakSpeed, 1, *band.peakSpeed},
        // Without a measured speed, wheels against wheels: both hold the same slip.
        {"peak speed of the wheels", Dimension::Speed, measured ? std::nullopt : pass.wheelPeak, planned.peakWheels,
         th.offPlanSpeed * *planned.peakWheels, 1, *band.peakWheels, 1},
        {"peak current", Dimension::Current, pass.peakCurrent, planned.current, th.offPlanCurrent * *planned.current, 1,
         *band.current, 1},
        {"lowest cell", Dimension::Voltage, pass.minCellVoltage, planned.cell, th.offPlanVoltage, 2, *band.cell, -1},
        {"motor at the zone's end", Dimension::Temperature, celsiusOf(pass.motor.max), planned.motor,
         th.offPlanTemperature, 1, *band.motor}};
    Sentence seen, threshold;
    const bool slow = sampledTooSlowly(context, pass.session);
    for (const Compared& c : figures) {
        const double half = std::max(c.least, c.spread);
        if (!c.seen || !c.planned || std::abs(*c.seen - *c.planned) <= half) continue;
        if (slow && c.peak * (*c.seen - *c.planned) < 0.0) continue;
        const auto said = [&](double value) { return SaidNumber{value, c.dimension, c.decimals}; };
        seen +=
            (seen.empty() ? "" : "; ") + std::string(c.name) + " " + said(*c.seen) + ", planned " + said(*c.planned);
        // A width of temperature is no temperature.
        const Dimension width = c.dimension == Dimension::Temperature ? Dimension::Warming : c.dimension;
        threshold += (threshold.empty() ? "" : "; ") + std::string(c.name) + " within " +
                     SaidNumber{half, width, c.decimals + 1};
    }
    if (seen.empty()) return;
    seen = seen.upperFirst() + ".";
    if (context.taught()) seen += " Planned with what logs taught of this setup.";
    reportPass(context, "off-plan", Severity::Note, p, {pass.startRow, pass.startRow, pass.endRow}, {seen, threshold});
}

} // namespace

std::optional<CutoffCost> costOfCutoff(const Context& context, std::size_t pass) {
    const ReviewPass& seen = context.out.passes[pass];
    if (!context.planCounts(seen.session) || context.cells(seen.session) != context.plan.pack.series) return {};
    PlanInput plan = plannedPass(context.foretelling(), seen);
    auto& cutoff = plan.controller.cutoff;
    cutoff.cell_V = context.cutoff(seen.session);
    if (!cutoff.cell_V) return {};
    if (cutoff.mode == CutoffMode::Off) cutoff.mode = CutoffMode::Soft; // the plan has none, but it acted
    CutoffCost cost;
    const Planned with = run(plan);
    cost.with = with.zone;
    cost.foreseen = with.cutoffTime > 0.0;
    cutoff.mode = CutoffMode::Off;
    cost.without = run(plan).zone;
    return cost;
}

PlannedRise plannedRise(const Context& context, std::size_t pass) {
    const ReviewPass& seen = context.out.passes[pass];
    if (!seen.outputRise || !context.planCounts(seen.session) ||
        context.cells(seen.session) != context.plan.pack.series)
        return {};
    const PlanInput plan = plannedPass(context.foretelling(), seen);
    std::vector<std::pair<double, double>> duty; // s, 1
    double most = 0.0;
    const BoundTimes bound = simulatePass(passSetup(plan), startState(plan), {}, [&](const Instant& instant) {
                                 duty.emplace_back(instant.time, instant.duty);
                                 most = std::max(most, instant.duty);
                             }).bound;
    const auto last = std::ranges::find_if(duty, [&](const auto& at) { return at.second >= 0.9 * most; });
    const auto first = std::find_if(std::make_reverse_iterator(last), duty.rend(),
                                    [&](const auto& at) { return at.second <= 0.1 * most; });
    if (last == duty.end() || first == duty.rend()) return {};
    const double rise = last->first - first->first;
    return {std::abs(*seen.outputRise - rise) <= context.th.throttleExplained * rise,
            bound.traction > 0.0 && bound.motorCurrent + bound.packCurrent == 0.0};
}

void judgePlan(Context& context) {
    if (context.out.passes.empty()) return;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        context.poll();
        if (!needsPlan(context, "off-plan", pass.session, "what was expected")) continue;
        if (!pass.complete)
            cannotJudge(context, "off-plan", pass.session, "pass " + std::to_string(p + 1) + " is cut");
        else if (context.cells(pass.session) != context.plan.pack.series)
            cannotJudge(context, "off-plan", pass.session,
                        "the plan is for " + counted(context.plan.pack.series, "cell", "cells"));
        else
            comparePass(context, p);
    }
}

} // namespace rw::review
