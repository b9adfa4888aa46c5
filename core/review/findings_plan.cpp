// Against the plan: off-plan, and what the cutoff cost.
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/review/findings.h"
#include "core/review/planned_pass.h"
#include "core/units.h"

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
};

struct Planned {
    std::optional<double> zone, peakSpeed, peakWheels, current, cell, motor; // wheels: m/s if nothing slipped
};
Planned run(const PlanInput& plan) {
    const PassSetup setup = passSetup(plan);
    const PassResult result = simulatePass(setup, startState(plan));
    return {result.zoneMean,
            result.peakSpeed,
            result.peakWheelSpeed * setup.tyre.radiusAt(result.peakWheelSpeed),
            result.peakPackCurrent,
            result.minCellVoltage,
            result.caseExit};
}

constexpr double half90 =
    1.6448536269514727; // half width of the 90 % interval of a normal variable, in standard deviations

void addSquare(double& sum, std::optional<double> a, std::optional<double> b) {
    if (a && b) sum += (*a - *b) * (*a - *b);
}

// Half of the 90 % band, to first order: each stated uncertainty by itself.
Planned bandOf(const PlanInput& plan, const Planned& middle) {
    double zone = 0.0, peak = 0.0, wheels = 0.0, current = 0.0, cell = 0.0, motor = 0.0;
    // The pass's own start is measured, not planned.
    const std::set<std::string> measured{"start.motor_C", "start.controller_C", "start.pack_C", "pack.charge"};
    for (const auto& [key, deviation] : plan.uncertainty) {
        const PlanField* field = findPlanField(key);
        if (!field || !field->get || !field->set || measured.contains(key)) continue;
        const auto value = field->get(plan);
        if (!value) continue;
        PlanInput moved = plan;
        const double up = *value + deviation;
        field->set(moved, up <= field->high ? up : *value - deviation);
        try {
            checkPlanInput(moved, "");
            const Planned other = run(moved);
            addSquare(zone, other.zone, middle.zone);
            addSquare(peak, other.peakSpeed, middle.peakSpeed);
            addSquare(wheels, other.peakWheels, middle.peakWheels);
            addSquare(current, other.current, middle.current);
            addSquare(cell, other.cell, middle.cell);
            addSquare(motor, other.motor, middle.motor);
        } catch (const std::exception&) {
            continue; // a value that leaves the valid range widens nothing
        }
    }
    return {half90 * std::sqrt(zone),    half90 * std::sqrt(peak), half90 * std::sqrt(wheels),
            half90 * std::sqrt(current), half90 * std::sqrt(cell), half90 * std::sqrt(motor)};
}

std::optional<double> celsiusOf(std::optional<double> kelvin) {
    return kelvin ? std::optional<double>(celsiusFromKelvin(*kelvin)) : std::nullopt;
}

void comparePass(Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const PlanInput plan = plannedPass(context.plan, pass);
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
         th.offPlanSpeed * *planned.peakWheels, 1, *band.peakWheels},
        {"peak current", Dimension::Current, pass.peakCurrent, planned.current, th.offPlanCurrent * *planned.current, 1,
         *band.current},
        {"lowest cell", Dimension::Voltage, pass.minCellVoltage, planned.cell, th.offPlanVoltage, 2, *band.cell},
        {"motor at the zone's end", Dimension::Temperature, celsiusOf(pass.motor.max), planned.motor,
         th.offPlanTemperature, 1, *band.motor}};
    Sentence seen, threshold;
    for (const Compared& c : figures) {
        const double half = std::max(c.least, c.spread);
        if (!c.seen || !c.planned || std::abs(*c.seen - *c.planned) <= half) continue;
        const auto said = [&](double value) { return SaidNumber{value, c.dimension, c.decimals}; };
        seen +=
            (seen.empty() ? "" : "; ") + std::string(c.name) + " " + said(*c.seen) + ", planned " + said(*c.planned);
        // A width of temperature is no temperature.
        const Dimension width = c.dimension == Dimension::Temperature ? Dimension::Warming : c.dimension;
        threshold += (threshold.empty() ? "" : "; ") + std::string(c.name) + " within " +
                     SaidNumber{half, width, c.decimals + 1};
    }
    if (seen.empty()) return;
    reportPass(context, "off-plan", Severity::Note, p, {pass.startRow, pass.startRow, pass.endRow},
               {seen.upperFirst() + ".", threshold});
}

} // namespace

std::optional<CutoffCost> costOfCutoff(const Context& context, std::size_t pass) {
    const ReviewPass& seen = context.out.passes[pass];
    if (!context.planCounts(seen.session) || context.cells(seen.session) != context.plan.pack.series) return {};
    PlanInput plan = plannedPass(context.plan, seen);
    auto& cutoff = plan.controller.cutoff;
    cutoff.cell_V = context.cutoff(seen.session);
    if (!cutoff.cell_V) return {};
    if (cutoff.mode == CutoffMode::Off) cutoff.mode = CutoffMode::Soft; // the plan has none, but it acted
    CutoffCost cost;
    cost.with = run(plan).zone;
    cutoff.mode = CutoffMode::Off;
    cost.without = run(plan).zone;
    return cost;
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
