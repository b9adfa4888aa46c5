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
using enum Dimension;

constexpr std::array figures{
    PlanFigure{"zone_mean_mps", "mean through the zone", Speed, 2, [](In, Pass p) { return p.zoneMean; }, true,
               "timed zone"},
    PlanFigure{"peak_speed_mps", "peak speed", Speed, 2, [](In, Pass p) -> Value { return p.peakSpeed; }},
    PlanFigure{"peak_speed_at_m", "peak speed at", Distance, 1, [](In, Pass p) -> Value { return p.peakSpeedAt; }},
    PlanFigure{"time_to_target_s", "time to target", Time, 2, [](In, Pass p) { return p.timeToTarget; }},
    PlanFigure{"distance_to_target_m", "distance to target", Distance, 1,
               [](In, Pass p) { return p.distanceToTarget; }},
    PlanFigure{"zone_entry_s", "zone entry", Time, 2, [](In, Pass p) { return p.zoneEntry; }},
    PlanFigure{"zone_exit_s", "zone exit", Time, 2, [](In, Pass p) { return p.zoneExit; }},
    PlanFigure{"min_pack_V", "lowest pack voltage", Voltage, 2, [](In, Pass p) -> Value { return p.minPackVoltage; }},
    PlanFigure{"min_cell_V", "lowest cell voltage", Voltage, 3, [](In, Pass p) -> Value { return p.minCellVoltage; },
               true, "lowest cell"},
    PlanFigure{"peak_pack_A", "peak pack current", Current, 1, [](In, Pass p) -> Value { return p.peakPackCurrent; }},
    PlanFigure{"peak_motor_A", "peak motor current", Current, 1,
               [](In, Pass p) -> Value { return p.peakMotorCurrent; }},
    PlanFigure{"peak_electrical_W", "peak electrical power", Power, 0,
               [](In, Pass p) -> Value { return p.peakElectrical; }},
    PlanFigure{"peak_shaft_W", "peak shaft power", Power, 0, [](In, Pass p) -> Value { return p.peakShaft; }},
    PlanFigure{"peak_motor_rpm", "peak motor speed", Rpm, 0,
               [](In, Pass p) -> Value { return p.peakMotorSpeed * rpmPerRadps; }},
    PlanFigure{"peak_electrical_rpm", "peak electrical speed", Rpm, 0,
               [](In i, Pass p) -> Value { return p.peakMotorSpeed * rpmPerRadps * i.motor.poles / 2.0; }},
    PlanFigure{"peak_wheel_radps", "peak wheel speed", AngularSpeed, 0,
               [](In, Pass p) -> Value { return p.peakWheelSpeed; }},
    PlanFigure{"charge_used_Ah", "charge used", Charge, 3,
               [](In, Pass p) -> Value { return p.chargeUsed / secondsPerHour; }},
    PlanFigure{"energy_used_Wh", "energy used", Energy, 2,
               [](In, Pass p) -> Value { return p.energyUsed / secondsPerHour; }},
    PlanFigure{"winding_exit_C", "winding at zone exit", Temperature, 1, [](In, Pass p) { return p.windingExit; }},
    PlanFigure{"case_exit_C", "motor case at zone exit", Temperature, 1, [](In, Pass p) { return p.caseExit; }},
    PlanFigure{"case_soak_peak_C", "motor case after soak", Temperature, 1,
               [](In, Pass p) -> Value { return p.caseSoakPeak; }, true, "motor after soak"},
    PlanFigure{"case_soak_peak_after_s", "soak peak after", Time, 0, [](In, Pass p) { return p.caseSoakPeakAfter; }},
    PlanFigure{"winding_peak_C", "winding peak", Temperature, 1, [](In, Pass p) -> Value { return p.windingPeak; }},
    PlanFigure{"controller_peak_C", "controller peak", Temperature, 1,
               [](In, Pass p) -> Value { return p.controllerPeak; }, true, "controller"},
    PlanFigure{"pack_peak_C", "pack peak", Temperature, 1, [](In, Pass p) -> Value { return p.packPeak; }},
    PlanFigure{"ripple_estimate_V", "ripple (estimate)", Voltage, 2, [](In, Pass p) -> Value { return p.ripple; }},
    PlanFigure{"min_front_load_ratio", "least front load", Share, 2,
               [](In, Pass p) -> Value {
                   // No share of a standing load of 0 (centre of gravity over the rear axle).
                   return std::isfinite(p.minFrontLoadRatio) ? Value(p.minFrontLoadRatio) : std::nullopt;
               }},
    PlanFigure{"braking_m", "braking distance", Distance, 1, [](In, Pass p) { return p.braking; }},
    PlanFigure{"stop_at_m", "stands at", Distance, 1, [](In, Pass p) -> Value { return p.stopAt; }},
    PlanFigure{"end_charge", "charge left", Share, 3, [](In, Pass p) -> Value { return p.end.charge; }},
};

} // namespace

std::span<const PlanFigure> planFigures() { return figures; }

const PlanFigure* findPlanFigure(std::string_view key) {
    const auto found = std::ranges::find(figures, key, &PlanFigure::key);
    return found == figures.end() ? nullptr : &*found;
}

bool makesTarget(const PassResult& pass, std::optional<double> target) {
    return target && pass.zoneMean && *pass.zoneMean >= *target;
}

} // namespace rw
