// Against the plan: off-plan, and what the cutoff cost.
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/review/findings.h"
#include "core/review/planned.h"
#include "core/units.h"

#include <cmath>
#include <set>

namespace rw::review {

namespace {

// Charge at which the plan's pack rests at a voltage; the table's ends beyond it.
double chargeAt(const PassSetup& setup, double voltage) {
    const double cell = voltage / setup.pack.series;
    double low = 0.0, high = 1.0;
    while (high - low > 1e-9) {
        const double middle = (low + high) / 2.0;
        (setup.pack.ocv.at(middle) < cell ? low : high) = middle;
    }
    return (low + high) / 2.0;
}

// What is compared, in the order of the text. Widths are the least half width of the band.
struct Compared {
    std::string_view name, unit;
    std::optional<double> seen, planned;
    double least = 0.0; // half width, in the figure's unit
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
    const PlanInput plan = planFrom(context, p);
    const Planned planned = run(plan), band = bandOf(plan, planned);
    const ReviewThresholds& th = context.th;
    const bool measured = pass.speedPeak.has_value();
    std::vector<Compared> figures{
        {"zone speed", "m/s", measured ? pass.zoneSpeed : std::nullopt, planned.zone,
         th.offPlanSpeed * planned.zone.value_or(0.0), 1, *band.zone},
        {"peak speed", "m/s", pass.speedPeakLowerBound ? std::nullopt : pass.speedPeak, planned.peakSpeed,
         th.offPlanSpeed * *planned.peakSpeed, 1, *band.peakSpeed},
        // Without a measured speed, wheels against wheels: both hold the same slip.
        {"peak speed of the wheels", "m/s", measured ? std::nullopt : pass.wheelPeak, planned.peakWheels,
         th.offPlanSpeed * *planned.peakWheels, 1, *band.peakWheels},
        {"peak current", "A", pass.peakCurrent, planned.current, th.offPlanCurrent * *planned.current, 1,
         *band.current},
        {"lowest cell", "V", pass.minCellVoltage, planned.cell, th.offPlanVoltage, 2, *band.cell},
        {"motor at the zone's end", "°C", celsiusOf(pass.motor.max), planned.motor, th.offPlanTemperature, 1,
         *band.motor}};
    std::string seen, threshold;
    for (const Compared& c : figures) {
        const double half = std::max(c.least, c.spread);
        if (!c.seen || !c.planned || std::abs(*c.seen - *c.planned) <= half) continue;
        seen += (seen.empty() ? "" : "; ") + std::string(c.name) + " " + number(*c.seen, c.decimals) + " " +
                std::string(c.unit) + ", planned " + number(*c.planned, c.decimals);
        threshold += (threshold.empty() ? "" : "; ") + std::string(c.name) + " within " + number(half, c.decimals + 1) +
                     " " + std::string(c.unit);
    }
    if (seen.empty()) return;
    seen[0] = static_cast<char>(std::toupper(seen[0]));
    reportPass(context, "off-plan", Severity::Note, p, {pass.startRow, pass.startRow, pass.endRow},
               {seen + ".", threshold});
}

} // namespace

PlanInput planFrom(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    PlanInput plan = context.limits;
    const auto within = [](std::optional<double> celsius) { return celsius && *celsius >= -40.0 && *celsius <= 150.0; };
    if (const auto t = celsiusOf(pass.motor.start); within(t)) plan.start.motor_C = t;
    if (const auto t = celsiusOf(pass.controller.start); within(t)) plan.start.controller_C = t;
    if (const auto t = celsiusOf(pass.pack.start); within(t)) plan.start.pack_C = t;
    if (pass.restingVoltage) plan.pack.charge = chargeAt(passSetup(plan), *pass.restingVoltage);
    return plan;
}

std::optional<double> speedLostToCutoff(const Context& context, std::size_t pass) {
    if (!context.hasPlan || context.limits.controller.cutoff.mode == CutoffMode::Off) return {};
    PlanInput plan = planFrom(context, pass);
    if (context.options.cutoffCell) plan.controller.cutoff.cell_V = *context.options.cutoffCell;
    const auto with = run(plan).zone;
    plan.controller.cutoff.mode = CutoffMode::Off;
    const auto without = run(plan).zone;
    if (!with || !without) return {};
    return *without - *with;
}

void judgePlan(Context& context) {
    if (context.out.passes.empty()) return;
    if (!context.hasPlan) {
        cannotJudge(context, "off-plan", {}, "no plan was given");
        return;
    }
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        context.poll();
        if (!pass.complete)
            cannotJudge(context, "off-plan", pass.session, "pass " + std::to_string(p + 1) + " is cut");
        else if (context.cells(pass.session) != context.limits.pack.series)
            cannotJudge(context, "off-plan", pass.session,
                        "the plan is for " + std::to_string(context.limits.pack.series) + " cells");
        else
            comparePass(context, p);
    }
}

} // namespace rw::review
