// The plan input turned into what the equations need: SI, everything derived once.
#include "core/plan/plan.h"

#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/units.h"

namespace rw {

namespace {

Strip strip(const PlanInput& input) {
    const auto& air = input.air;
    const auto& venue = input.venue;
    const double pressure = air.pressure_Pa ? *air.pressure_Pa : standardPressure(air.elevation_m);
    const Strip out{.runUp = venue.run_up_m,
                    .timed = venue.timed_m,
                    .grade = venue.grade,
                    .friction = venue.friction,
                    .headWind = headWind(input.wind.speed_mps, input.wind.from_deg, venue.heading_deg),
                    .airDensity = moistAir(air.temperature_C, pressure, air.relative_humidity).density,
                    .airTemperature = air.temperature_C};
    if (!(out.airDensity > 0.0)) // far past boiling the formula for moist air runs into the negative
        throw InputError("air.relative_humidity",
                         "air this hot cannot hold so much water at this pressure; expected less humidity or heat");
    return out;
}

Chassis chassis(const PlanInput::VehicleInput& in) {
    return {.mass = in.mass_kg,
            .wheelbase = in.wheelbase_m,
            .cgBehindFront = in.cg_behind_front_m,
            .cgHeight = in.cg_height_m,
            .drive = in.driven,
            .dragArea = in.drag_area_m2,
            .dragHeight = in.drag_height_m.value_or(in.cg_height_m),
            .liftAreaFront = in.lift_area_front_m2,
            .liftAreaRear = in.lift_area_rear_m2,
            .rolling0 = in.rolling_c0,
            .rolling2 = in.rolling_c2_s2pm2,
            .wheelInertia = in.wheel_inertia_kgm2};
}

Motor motor(const PlanInput::MotorInput& in) {
    return {.kv_rpmPerVolt = in.kv_rpm_per_V,
            .resistance20 = in.resistance_ohm,
            .noLoad = noLoadFromTest(in.no_load_current_A, in.no_load_voltage_V, in.kv_rpm_per_V),
            .timing = in.timing_deg * radPerDeg,
            .magnetCoefficient = in.magnet_coefficient_per_K,
            .inertia = in.inertia_kgm2,
            .heat = {in.winding_capacity_JpK,
                     in.case_capacity_JpK,
                     in.winding_case_KpW,
                     {in.case_air_KpW, in.cooling_coefficient}},
            .ironLossToWinding = in.iron_loss_to_winding};
}

Controller controller(const PlanInput& input) {
    const auto& in = input.controller;
    return {.resistance = in.resistance_ohm,
            .endpoint = in.endpoint,
            .dutyRate = in.rate_per_s,
            .motorCurrentLimit = in.motor_current_limit_A,
            .packCurrentLimit = in.pack_current_limit_A,
            .auxiliaryCurrent = in.aux_current_A,
            .cutoff = in.cutoff.mode,
            .cutoffVoltage = in.cutoff.cell_V.value_or(0.0) * input.pack.series,
            .cutoffDelay = in.cutoff.delay_s,
            .pwmFrequency = in.pwm_Hz,
            .switchTime = in.switch_time_s,
            .inputCapacitance = in.input_capacitance_F,
            .inputEsr = in.input_esr_ohm,
            .idle = in.idle_W,
            .heat = {in.capacity_JpK, {in.case_air_KpW, in.cooling_coefficient}}};
}

Pack pack(const PlanInput::PackInput& in) {
    std::vector<double> charges, volts;
    for (const OcvPoint& row : in.ocv) {
        charges.push_back(row.charge);
        volts.push_back(row.volts_perCell);
    }
    return {.series = in.series,
            .parallel = in.parallel,
            .capacity = in.capacity_Ah * secondsPerHour,
            .cellResistance25 = in.cell_resistance_ohm,
            .resistanceB = in.cell_resistance_B_K,
            .leadResistance = in.lead_resistance_ohm,
            .rcResistance = in.rc_resistance_ohm,
            .rcCapacitance = in.rc_capacitance_F.value_or(0.0),
            .ocv = OpenCircuitVoltage(std::move(charges), volts),
            .heat = {in.capacity_JpK, {in.case_air_KpW, in.cooling_coefficient}}};
}

} // namespace

Tyre tyreOf(const PlanInput& input) {
    const auto& tyre = input.tyre;
    return {tyre.radius_m, tyre.growth, tyre.growth_half_speed_radps, tyre.slip_stiffness};
}

double fittedRatio(const PlanInput& input) {
    return overallRatio(input.gears.pinion_teeth, input.gears.spur_teeth, input.vehicle.internal_ratio);
}

PassSetup convertedSetup(const PlanInput& input) {
    const auto& drive = input.drive;
    return {strip(input),
            chassis(input.vehicle),
            tyreOf(input),
            {fittedRatio(input), input.vehicle.driveline_efficiency, input.vehicle.drag_torque_Nm},
            motor(input.motor),
            controller(input),
            pack(input.pack),
            {drive.throttle_ramp_s, drive.reaction_s, drive.brake_weight_fraction, drive.brake_heat_fraction,
             drive.target_mps}};
}

StartState startState(const PlanInput& input) {
    const double air = input.air.temperature_C;
    const double motorStart = input.start.motor_C.value_or(air);
    return {input.pack.charge,
            0.0,
            motorStart,
            motorStart,
            input.start.controller_C.value_or(air),
            input.start.pack_C.value_or(air)};
}

PassSetup passSetup(const PlanInput& input) {
    checkPlanInput(input, "plan input");
    return convertedSetup(input);
}

} // namespace rw
