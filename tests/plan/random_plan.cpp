#include "tests/plan/random_plan.h"

#include "core/physics/air.h"
#include "core/plan/plan_fields.h"
#include "core/plan/uncertain.h"
#include "tests/plan/sample_plans.h"

#include <algorithm>
#include <cmath>

namespace rw::testing {

namespace {

double between(SeededUniform& random, double low, double high) { return low + random.inUnit() * (high - low); }
bool chance(SeededUniform& random, double share) { return random.inUnit() < share; }

double fitted(const PlanField& field, double value) {
    value = std::clamp(value, field.low, field.high);
    if (field.kind != FieldKind::Number) {
        const double step = field.step;
        value = step * std::round(value / step);
    }
    if (field.lowOpen && value <= field.low) value = std::nextafter(field.low, field.high) + 1e-6;
    return value;
}

// Far past boiling, air under no more than this pressure cannot hold any share of saturation.
double possibleHumidity(const PlanInput::AirInput& air) {
    double humidity = air.relative_humidity;
    const double pressure = air.pressure_Pa.value_or(standardPressure(air.elevation_m));
    while (moistAir(air.temperature_C, pressure, humidity).vapourFraction > 1.0)
        humidity *= 0.5;
    return humidity;
}

// What fields drawn one by one do not see.
void makeValid(PlanInput& plan) {
    reconcile(plan);
    plan.air.relative_humidity = possibleHumidity(plan.air);
    if (plan.controller.cutoff.mode != CutoffMode::Off && !plan.controller.cutoff.cell_V)
        plan.controller.cutoff.cell_V = 3.3;
    if (plan.pack.rc_resistance_ohm > 0.0 && !plan.pack.rc_capacitance_F) plan.pack.rc_capacitance_F = 1500.0;
    plan.gears.pinions = {plan.gears.pinion_teeth};
    plan.gears.spurs = {plan.gears.spur_teeth};
    checkPlanInput(plan, "random plan");
}

double anywhere(SeededUniform& random, const PlanField& field) {
    const bool lower = std::isfinite(field.low), upper = std::isfinite(field.high);
    if (lower && upper) {
        const double pick = random.inUnit();
        if (pick < 0.1) return field.low;
        if (pick > 0.9) return field.high;
        return between(random, field.low, field.high);
    }
    const double size = std::pow(10.0, between(random, -4.0, 4.0));
    if (lower) return chance(random, 0.1) ? field.low : field.low + size;
    return chance(random, 0.5) ? size : -size;
}

} // namespace

PlanInput plausiblePlan(SeededUniform& random, double spread) {
    const auto samples = samplePlans();
    PlanInput plan = samples[random.below(samples.size())];
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr) continue;
        const auto value = field.get(plan);
        if (field.kind == FieldKind::Choice)
            field.set(plan, static_cast<double>(random.below(field.choices.size())));
        else if (field.nullable && field.name != "cell_V" && field.name != "rc_capacitance_F" && chance(random, 0.3))
            field.set(plan, std::nullopt);
        else if (value)
            field.set(plan, fitted(field, *value * std::pow(spread, between(random, -1.0, 1.0))));
    }
    plan.drive.passes = 1;
    plan.wind.from_deg = between(random, 0.0, 360.0);
    plan.venue.grade = between(random, -0.01, 0.01);
    makeValid(plan);
    return plan;
}

PlanInput strangePlan(SeededUniform& random) {
    PlanInput plan;
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr) continue;
        if (field.kind == FieldKind::Choice)
            field.set(plan, static_cast<double>(random.below(field.choices.size())));
        else if (!field.nullable || chance(random, 0.5))
            field.set(plan, fitted(field, anywhere(random, field)));
    }
    plan.drive.passes = 1;
    makeValid(plan);
    return plan;
}

} // namespace rw::testing
