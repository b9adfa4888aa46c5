// The plan input turned into what the equations need: SI, everything derived once.
#include "core/plan/plan.h"

#include "core/error.h"
#include "core/plan/plan_convert.h"
#include "core/plan/plan_fields.h"
#include "core/units.h"

#include <array>

namespace rw {

namespace {

Strip strip(const PlanInput& input) {
    const auto& air = input.air;
    const double pressure = air.pressure_Pa ? *air.pressure_Pa : standardPressure(air.elevation_m);
    Strip out;
    out.runUp = input.venue.run_up_m;
    out.timed = input.venue.timed_m;
    out.grade = input.venue.grade;
    out.friction = input.venue.friction;
    out.headWind = headWind(input.wind.speed_mps, input.wind.from_deg, input.venue.heading_deg);
    out.airDensity = moistAir(air.temperature_C, pressure, air.relative_humidity).density;
    if (!(out.airDensity > 0.0)) // far past boiling the formula for moist air runs into the negative
        throw InputError("air.relative_humidity",
                         "air this hot cannot hold so much water at this pressure; expected less humidity or heat");
    out.airTemperature = air.temperature_C;
    return out;
}

Chassis chassis(const PlanInput::VehicleInput& vehicle) {
    Chassis out;
    out.mass = vehicle.mass_kg;
    out.wheelbase = vehicle.wheelbase_m;
    out.cgBehindFront = vehicle.cg_behind_front_m;
    out.cgHeight = vehicle.cg_height_m;
    out.drive = std::array{Drive::Front, Drive::Rear, Drive::All}.at(static_cast<std::size_t>(vehicle.driven));
    out.dragArea = vehicle.drag_area_m2;
    out.dragHeight = vehicle.drag_height_m.value_or(vehicle.cg_height_m);
    out.liftAreaFront = vehicle.lift_area_front_m2;
    out.liftAreaRear = vehicle.lift_area_rear_m2;
    out.rolling0 = vehicle.rolling_c0;
    out.rolling2 = vehicle.rolling_c2_s2pm2;
    out.wheelInertia = vehicle.wheel_inertia_kgm2;
    return out;
}

Motor motor(const PlanInput::MotorInput& in) {
    Motor out;
    out.kv_rpmPerVolt = in.kv_rpm_per_V;
    out.resistance20 = in.resistance_ohm;
    out.noLoad = noLoadFromTest(in.no_load_current_A, in.no_load_voltage_V, in.kv_rpm_per_V);
    out.timing = in.timing_deg * radPerDeg;
    out.magnetCoefficient = in.magnet_coefficient_per_K;
    out.inertia = in.inertia_kgm2;
    out.heat = {
        in.winding_capacity_JpK, in.case_capacity_JpK, in.winding_case_KpW, {in.case_air_KpW, in.cooling_coefficient}};
    out.ironLossToWinding = in.iron_loss_to_winding;
    return out;
}

Controller controller(const PlanInput& input) {
    const auto& in = input.controller;
    Controller out;
    out.resistance = in.resistance_ohm;
    out.endpoint = in.endpoint;
    out.dutyRate = in.rate_per_s;
    out.motorCurrentLimit = in.motor_current_limit_A;
    out.packCurrentLimit = in.pack_current_limit_A;
    out.auxiliaryCurrent = in.aux_current_A;
    out.cutoff = std::array{VoltageCutoff::Off, VoltageCutoff::Soft, VoltageCutoff::Hard}.at(
        static_cast<std::size_t>(in.cutoff.mode));
    out.cutoffVoltage = in.cutoff.cell_V.value_or(0.0) * input.pack.series;
    out.cutoffDelay = in.cutoff.delay_s;
    out.pwmFrequency = in.pwm_Hz;
    out.switchTime = in.switch_time_s;
    out.inputCapacitance = in.input_capacitance_F;
    out.inputEsr = in.input_esr_ohm;
    out.idle = in.idle_W;
    out.heat = {in.capacity_JpK, {in.case_air_KpW, in.cooling_coefficient}};
    return out;
}

Pack pack(const PlanInput::PackInput& in) {
    std::vector<double> charges, volts;
    for (const OcvPoint& row : in.ocv) {
        charges.push_back(row.charge);
        volts.push_back(row.volts_perCell);
    }
    Pack out;
    out.series = in.series;
    out.parallel = in.parallel;
    out.capacity = in.capacity_Ah * secondsPerHour;
    out.cellResistance25 = in.cell_resistance_ohm;
    out.resistanceB = in.cell_resistance_B_K;
    out.leadResistance = in.lead_resistance_ohm;
    out.rcResistance = in.rc_resistance_ohm;
    out.rcCapacitance = in.rc_capacitance_F.value_or(0.0);
    out.ocv = OpenCircuitVoltage(std::move(charges), volts);
    out.heat = {in.capacity_JpK, {in.case_air_KpW, in.cooling_coefficient}};
    return out;
}

Driving driving(const PlanInput::DriveInput& in) {
    return {in.throttle_ramp_s, in.reaction_s, in.brake_weight_fraction, in.brake_heat_fraction, in.target_mps};
}

} // namespace

double ratioWith(const PlanInput& input, int pinion, int spur) {
    return overallRatio(pinion, spur, input.vehicle.internal_ratio);
}

PassSetup convertedSetup(const PlanInput& input) {
    PassSetup out;
    out.strip = strip(input);
    out.chassis = chassis(input.vehicle);
    out.tyre = {input.tyre.radius_m, input.tyre.growth, input.tyre.growth_half_speed_radps, input.tyre.slip_stiffness};
    out.gearing = {ratioWith(input, input.gears.pinion_teeth, input.gears.spur_teeth),
                   input.vehicle.driveline_efficiency, input.vehicle.drag_torque_Nm};
    out.motor = motor(input.motor);
    out.controller = controller(input);
    out.pack = pack(input.pack);
    out.driving = driving(input.drive);
    return out;
}

StartState convertedStart(const PlanInput& input) {
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

StartState startState(const PlanInput& input) {
    checkPlanInput(input, "plan input");
    return convertedStart(input);
}

} // namespace rw
