#include "samples/generate/cars.h"

#include "core/plan/plan_fields.h"

namespace rw::generate {

namespace {

// What the invented cars have in common: a cool, calm morning on a long strip.
PlanInput common() {
    PlanInput car;
    car.air.temperature_C = 18.0;
    car.air.elevation_m = 120.0;
    car.venue = {400.0, 110.0, 30.0, 0.0, 90.0, 1.6};
    car.vehicle.rolling_c0 = 0.024;
    car.vehicle.rolling_c2_s2pm2 = 3e-6;
    car.motor.poles = 4;
    car.motor.cooling_coefficient = 0.05;
    car.motor.iron_loss_to_winding = 0.2;
    car.controller.cooling_coefficient = 0.04;
    car.controller.idle_W = 1.2;
    car.controller.aux_current_A = 0.5;
    car.pack.cell_resistance_B_K = 1900.0;
    car.drive.throttle_ramp_s = 1.8;
    car.drive.reaction_s = 0.4;
    car.drive.brake_weight_fraction = 0.35;
    return car;
}

} // namespace

PlanInput lightCar() {
    PlanInput car = common();
    car.vehicle.mass_kg = 1.85;
    car.vehicle.wheelbase_m = 0.265;
    car.vehicle.cg_behind_front_m = 0.142;
    car.vehicle.cg_height_m = 0.027;
    car.vehicle.driven = DrivenAxle::Rear;
    car.vehicle.drag_area_m2 = 0.0125;
    car.vehicle.lift_area_front_m2 = -0.006;
    car.vehicle.lift_area_rear_m2 = -0.02;
    car.vehicle.driveline_efficiency = 0.94;
    car.vehicle.drag_torque_Nm = 0.006;
    car.vehicle.wheel_inertia_kgm2 = 9e-5;
    car.vehicle.mesh_min_m = 0.02;
    car.vehicle.mesh_max_m = 0.03;
    car.tyre = {0.031, 0.02, 1400.0, 17.0, 2200.0};
    car.gears = {0.000529, 18, 74, {16, 17, 18, 19, 20}, {74, 78}};
    car.drive.throttle_ramp_s = 3.0;
    car.motor.kv_rpm_per_V = 2700.0;
    car.motor.resistance_ohm = 0.0085;
    car.motor.no_load_current_A = 4.2;
    car.motor.no_load_voltage_V = 14.8;
    car.motor.timing_deg = 12.0;
    car.motor.inertia_kgm2 = 3.4e-6;
    car.motor.max_speed_rpm = 60000.0;
    car.motor.winding_capacity_JpK = 18.0;
    car.motor.case_capacity_JpK = 85.0;
    car.motor.winding_case_KpW = 0.4;
    car.motor.case_air_KpW = 4.2;
    car.controller.resistance_ohm = 0.0012;
    car.controller.capacity_JpK = 60.0;
    car.controller.case_air_KpW = 3.2;
    car.controller.continuous_A = 140.0;
    car.controller.burst_A = 260.0;
    car.controller.cutoff = {CutoffMode::Soft, 3.2, 0.5};
    car.pack.series = 4;
    car.pack.capacity_Ah = 5.0;
    car.pack.cell_resistance_ohm = 0.0017;
    car.pack.lead_resistance_ohm = 0.0009;
    car.pack.rc_resistance_ohm = 0.004;
    car.pack.rc_capacitance_F = 1900.0;
    car.pack.continuous_c_rate = 30.0;
    car.pack.burst_c_rate = 60.0;
    car.pack.capacity_JpK = 420.0;
    car.pack.case_air_KpW = 4.5;
    return car;
}

PlanInput middleCar() {
    PlanInput car = common();
    car.venue.run_up_m = 140.0;
    car.vehicle.mass_kg = 4.3;
    car.vehicle.wheelbase_m = 0.33;
    car.vehicle.cg_behind_front_m = 0.166;
    car.vehicle.cg_height_m = 0.036;
    car.vehicle.driven = DrivenAxle::All;
    car.vehicle.drag_area_m2 = 0.021;
    car.vehicle.lift_area_rear_m2 = -0.015;
    car.vehicle.internal_ratio = 2.6;
    car.vehicle.driveline_efficiency = 0.9;
    car.vehicle.drag_torque_Nm = 0.02;
    car.vehicle.wheel_inertia_kgm2 = 6e-4;
    car.vehicle.mesh_min_m = 0.03;
    car.vehicle.mesh_max_m = 0.046;
    car.tyre = {0.046, 0.03, 1200.0, 15.0, 1500.0};
    car.gears = {0.0008, 24, 54, {22, 23, 24, 25, 26}, {54}};
    car.motor.kv_rpm_per_V = 1750.0;
    car.motor.resistance_ohm = 0.007;
    car.motor.no_load_current_A = 5.2;
    car.motor.no_load_voltage_V = 22.2;
    car.motor.timing_deg = 10.0;
    car.motor.inertia_kgm2 = 1.4e-5;
    car.motor.max_speed_rpm = 60000.0;
    car.motor.winding_capacity_JpK = 40.0;
    car.motor.case_capacity_JpK = 190.0;
    car.motor.winding_case_KpW = 0.28;
    car.motor.case_air_KpW = 2.8;
    car.controller.resistance_ohm = 0.001;
    car.controller.capacity_JpK = 110.0;
    car.controller.case_air_KpW = 2.6;
    car.controller.continuous_A = 220.0;
    car.controller.burst_A = 420.0;
    car.controller.cutoff = {CutoffMode::Soft, 3.2, 0.5};
    car.pack.series = 6;
    car.pack.capacity_Ah = 6.0;
    car.pack.cell_resistance_ohm = 0.0014;
    car.pack.lead_resistance_ohm = 0.001;
    car.pack.rc_resistance_ohm = 0.005;
    car.pack.rc_capacitance_F = 1700.0;
    car.pack.continuous_c_rate = 40.0;
    car.pack.burst_c_rate = 75.0;
    car.pack.capacity_JpK = 800.0;
    car.pack.case_air_KpW = 3.4;
    return car;
}

PlanInput heavyCar() {
    PlanInput car = middleCar();
    car.venue.run_up_m = 190.0;
    car.vehicle.mass_kg = 6.8;
    car.vehicle.wheelbase_m = 0.4;
    car.vehicle.cg_behind_front_m = 0.198;
    car.vehicle.cg_height_m = 0.047;
    car.vehicle.drag_area_m2 = 0.03;
    car.vehicle.lift_area_rear_m2 = -0.02;
    car.vehicle.wheel_inertia_kgm2 = 1.5e-3;
    car.tyre = {0.0535, 0.04, 1000.0, 14.0, 1400.0};
    car.gears = {0.001, 24, 48, {22, 23, 24, 25, 26}, {48}};
    car.vehicle.mesh_max_m = 0.05;
    car.motor.kv_rpm_per_V = 1200.0;
    car.motor.resistance_ohm = 0.0055;
    car.motor.no_load_current_A = 6.8;
    car.motor.no_load_voltage_V = 29.6;
    car.motor.inertia_kgm2 = 3.1e-5;
    car.motor.winding_capacity_JpK = 62.0;
    car.motor.case_capacity_JpK = 330.0;
    car.motor.winding_case_KpW = 0.2;
    car.motor.case_air_KpW = 2.2;
    car.controller.capacity_JpK = 170.0;
    car.controller.case_air_KpW = 2.1;
    car.controller.continuous_A = 260.0;
    car.controller.burst_A = 600.0;
    car.pack.series = 8;
    car.pack.capacity_Ah = 6.5;
    car.pack.cell_resistance_ohm = 0.0013;
    car.pack.capacity_JpK = 1150.0;
    car.pack.case_air_KpW = 3.0;
    car.drive.throttle_ramp_s = 2.4;
    return car;
}

namespace {

// How unsure the owner is of a number of the middle car, in the key's unit, and by how many such uncertainties the
// truth is off. Shares as a careful owner reaches them (common practice, from memory); the offsets are made up.
struct Unsure {
    const char* key;
    double uncertainty, off;
};
constexpr Unsure unsure[] = {
    {"air.temperature_C", 1.0, 0.3},
    {"wind.speed_mps", 0.4, 0.5},
    {"venue.friction", 0.12, -0.4},
    {"vehicle.mass_kg", 0.02, 0.5},
    {"vehicle.cg_height_m", 0.003, 0.5},
    {"vehicle.drag_area_m2", 0.0017, 0.7},
    {"vehicle.lift_area_rear_m2", 0.0075, 0.3},
    {"vehicle.rolling_c0", 0.0035, -0.5},
    {"vehicle.driveline_efficiency", 0.015, -0.6},
    {"vehicle.wheel_inertia_kgm2", 0.0001, 0.4},
    {"tyre.radius_m", 0.00025, -0.6},
    {"tyre.growth", 0.009, 0.5},
    {"motor.kv_rpm_per_V", 35.0, 0.5},
    {"motor.resistance_ohm", 0.0007, 0.6},
    {"motor.no_load_current_A", 0.5, 0.4},
    {"motor.case_capacity_JpK", 25.0, -0.4},
    {"motor.winding_case_KpW", 0.04, 0.5},
    {"motor.case_air_KpW", 0.5, -0.3},
    {"controller.resistance_ohm", 0.0002, 0.6},
    {"controller.capacity_JpK", 20.0, 0.3},
    {"pack.cell_resistance_ohm", 0.00014, 0.7},
    {"pack.lead_resistance_ohm", 0.0002, 0.4},
    {"pack.rc_resistance_ohm", 0.001, -0.4},
    {"pack.capacity_Ah", 0.18, -0.4},
    {"pack.charge", 0.015, 0.4},
};

} // namespace

PlanInput mainDayPlan() {
    PlanInput car = middleCar();
    car.air.temperature_C = 27.0;
    car.wind = {0.6, 90.0};
    car.venue.length_m = 650.0;
    car.venue.run_up_m = 200.0;
    car.gears.pinion_teeth = 39;
    car.gears.pinions = {36, 38, 39, 40, 41, 42};
    car.tyre.max_speed_radps = 1800.0;
    car.controller.cutoff = {CutoffMode::Soft, 3.6, 0.2};
    car.pack.charge = 0.62;
    car.start = {31.0, 30.0, 29.0};
    car.drive.target_mps = 52.0;
    car.drive.turn_around_s = 45.0;
    car.drive.passes = 3;
    for (const Unsure& one : unsure)
        car.uncertainty[one.key] = one.uncertainty;
    return car;
}

PlanInput asItTrulyIs(PlanInput plan) {
    for (const Unsure& one : unsure) {
        const PlanField* field = findPlanField(one.key);
        field->set(plan, field->get(plan).value_or(0.0) + one.off * one.uncertainty);
    }
    return plan;
}

} // namespace rw::generate
