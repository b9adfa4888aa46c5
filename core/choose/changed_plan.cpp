#include "core/choose/changed_plan.h"

#include "core/error.h"

namespace rw {

namespace {

bool isOf(std::string_view key, std::string_view group) {
    return key.size() > group.size() && key.starts_with(group) && key[group.size()] == '.';
}

void scaleUncertainty(PlanInput& plan, const char* key, double factor) {
    if (const auto found = plan.uncertainty.find(key); found != plan.uncertainty.end()) found->second *= factor;
}

} // namespace

void replaceUncertainty(PlanInput& plan, std::string_view group, const std::map<std::string, double>& uncertainty) {
    std::erase_if(plan.uncertainty, [&](const auto& entry) { return isOf(entry.first, group); });
    std::erase_if(plan.correlation,
                  [&](const KeyCorrelation& pair) { return isOf(pair.first, group) || isOf(pair.second, group); });
    for (const auto& [key, value] : uncertainty)
        if (isOf(key, group)) plan.uncertainty.insert_or_assign(key, value);
}

PlanInput withCells(const PlanInput& plan, int series) {
    PlanInput out = plan;
    if (series == plan.pack.series) return out;
    const double factor = static_cast<double>(series) / plan.pack.series;
    auto& pack = out.pack;
    pack.series = series;
    pack.capacity_JpK *= factor;
    pack.rc_resistance_ohm *= factor;
    if (pack.rc_capacitance_F) *pack.rc_capacitance_F /= factor;
    if (pack.mass_kg) {
        out.vehicle.mass_kg += *pack.mass_kg * (factor - 1.0);
        *pack.mass_kg *= factor;
    }
    for (const char* key : {"pack.capacity_JpK", "pack.rc_resistance_ohm", "pack.mass_kg"})
        scaleUncertainty(out, key, factor);
    scaleUncertainty(out, "pack.rc_capacitance_F", 1.0 / factor);
    return out;
}

PlanInput woundFor(const PlanInput& plan, double kv) {
    PlanInput out = plan;
    const double factor = kv / plan.motor.kv_rpm_per_V;
    auto& motor = out.motor;
    motor.kv_rpm_per_V = kv;
    motor.resistance_ohm /= factor * factor;
    motor.no_load_current_A *= factor;
    motor.no_load_voltage_V /= factor;
    scaleUncertainty(out, "motor.kv_rpm_per_V", factor);
    scaleUncertainty(out, "motor.resistance_ohm", 1.0 / (factor * factor));
    scaleUncertainty(out, "motor.no_load_current_A", factor);
    scaleUncertainty(out, "motor.no_load_voltage_V", 1.0 / factor);
    return out;
}

PlanInput geared(const PlanInput& plan, const GearPair& pair) {
    PlanInput out = plan;
    out.gears.pinion_teeth = pair.pinion;
    out.gears.spur_teeth = pair.spur;
    return out;
}

PlanInput withRatio(const PlanInput& plan, double overallRatio) {
    PlanInput out = plan;
    out.vehicle.internal_ratio = overallRatio * plan.gears.pinion_teeth / plan.gears.spur_teeth;
    return out;
}

std::optional<JudgedPass> judgedIfAny(const PlanInput& input, const PassSetup& setup, const PassPrecision& precision) {
    try {
        return judgedPass(input, setup, precision);
    } catch (const InputError&) {
        return std::nullopt;
    }
}

} // namespace rw
