#include "core/plan/plan_figures.h"

#include "core/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

using In = const PlanInput&;
using Pass = const PassResult&;
using Value = std::optional<double>;

constexpr std::array figures{
    PlanFigure{"zone_mean_mps", "mean through the zone", "m/s", 2, [](In, Pass p) { return p.zoneMean; }},
    PlanFigure{"peak_speed_mps", "peak speed", "m/s", 2, [](In, Pass p) -> Value { return p.peakSpeed; }},
    PlanFigure{"peak_speed_at_m", "peak speed at", "m", 1, [](In, Pass p) -> Value { return p.peakSpeedAt; }},
    PlanFigure{"time_to_target_s", "time to target", "s", 2, [](In, Pass p) { return p.timeToTarget; }},
    PlanFigure{"distance_to_target_m", "distance to target", "m", 1, [](In, Pass p) { return p.distanceToTarget; }},
    PlanFigure{"zone_entry_s", "zone entry", "s", 2, [](In, Pass p) { return p.zoneEntry; }},
    PlanFigure{"zone_exit_s", "zone exit", "s", 2, [](In, Pass p) { return p.zoneExit; }},
    PlanFigure{"min_pack_V", "lowest pack voltage", "V", 2, [](In, Pass p) -> Value { return p.minPackVoltage; }},
    PlanFigure{"min_cell_V", "lowest cell voltage", "V", 3, [](In, Pass p) -> Value { return p.minCellVoltage; }},
    PlanFigure{"peak_pack_A", "peak pack current", "A", 1, [](In, Pass p) -> Value { return p.peakPackCurrent; }},
    PlanFigure{"peak_motor_A", "peak motor current", "A", 1, [](In, Pass p) -> Value { return p.peakMotorCurrent; }},
    PlanFigure{"peak_electrical_W", "peak electrical power", "W", 0,
               [](In, Pass p) -> Value { return p.peakElectrical; }},
    PlanFigure{"peak_shaft_W", "peak shaft power", "W", 0, [](In, Pass p) -> Value { return p.peakShaft; }},
    PlanFigure{"peak_motor_rpm", "peak motor speed", "rpm", 0,
               [](In, Pass p) -> Value { return p.peakMotorSpeed * rpmPerRadps; }},
    PlanFigure{"peak_electrical_rpm", "peak electrical speed", "rpm", 0,
               [](In i, Pass p) -> Value { return p.peakMotorSpeed * rpmPerRadps * i.motor.poles / 2.0; }},
    PlanFigure{"peak_wheel_radps", "peak wheel speed", "rad/s", 0,
               [](In, Pass p) -> Value { return p.peakWheelSpeed; }},
    PlanFigure{"charge_used_Ah", "charge used", "Ah", 3,
               [](In, Pass p) -> Value { return p.chargeUsed / secondsPerHour; }},
    PlanFigure{"energy_used_Wh", "energy used", "Wh", 2,
               [](In, Pass p) -> Value { return p.energyUsed / secondsPerHour; }},
    PlanFigure{"winding_exit_C", "winding at zone exit", "°C", 1, [](In, Pass p) { return p.windingExit; }},
    PlanFigure{"case_exit_C", "motor case at zone exit", "°C", 1, [](In, Pass p) { return p.caseExit; }},
    PlanFigure{"case_soak_peak_C", "motor case after soak", "°C", 1,
               [](In, Pass p) -> Value { return p.caseSoakPeak; }},
    PlanFigure{"case_soak_peak_after_s", "soak peak after", "s", 0, [](In, Pass p) { return p.caseSoakPeakAfter; }},
    PlanFigure{"winding_peak_C", "winding peak", "°C", 1, [](In, Pass p) -> Value { return p.windingPeak; }},
    PlanFigure{"controller_peak_C", "controller peak", "°C", 1, [](In, Pass p) -> Value { return p.controllerPeak; }},
    PlanFigure{"pack_peak_C", "pack peak", "°C", 1, [](In, Pass p) -> Value { return p.packPeak; }},
    PlanFigure{"ripple_estimate_V", "ripple (estimate)", "V", 2, [](In, Pass p) -> Value { return p.ripple; }},
    PlanFigure{"min_front_load_ratio", "least front load", "", 2,
               [](In, Pass p) -> Value {
                   // No share of a standing load of 0 (centre of gravity over the rear axle).
                   return std::isfinite(p.minFrontLoadRatio) ? Value(p.minFrontLoadRatio) : std::nullopt;
               }},
    PlanFigure{"braking_m", "braking distance", "m", 1, [](In, Pass p) { return p.braking; }},
    PlanFigure{"stop_at_m", "stands at", "m", 1, [](In, Pass p) -> Value { return p.stopAt; }},
    PlanFigure{"end_charge", "charge left", "", 3, [](In, Pass p) -> Value { return p.end.charge; }},
};

} // namespace

std::span<const PlanFigure> planFigures() { return figures; }

const PlanFigure* findPlanFigure(std::string_view name) {
    const auto found =
        std::find_if(figures.begin(), figures.end(), [&](const PlanFigure& figure) { return figure.name == name; });
    return found == figures.end() ? nullptr : &*found;
}

bool makesTarget(const PassResult& pass, std::optional<double> target) {
    return target && pass.zoneMean && *pass.zoneMean >= *target;
}

} // namespace rw
