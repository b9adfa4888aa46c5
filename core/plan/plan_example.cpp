#include "core/plan/plan_example.h"

namespace rw {

namespace {

void setChassis(PlanInput& plan) {
    auto& v = plan.vehicle;
    v.mass_kg = 2.35, v.wheelbase_m = 0.285, v.cg_behind_front_m = 0.142, v.cg_height_m = 0.032;
    v.driven = DrivenAxle::Rear;
    v.drag_area_m2 = 0.0135, v.drag_height_m = 0.045, v.lift_area_front_m2 = 0.0005, v.lift_area_rear_m2 = -0.004;
    v.rolling_c0 = 0.022, v.rolling_c2_s2pm2 = 4e-6;
    v.internal_ratio = 2.5, v.driveline_efficiency = 0.93, v.drag_torque_Nm = 0.01, v.wheel_inertia_kgm2 = 0.00016;
    v.mesh_min_m = 0.024, v.mesh_max_m = 0.034;
    plan.tyre = {0.0335, 0.04, 1100.0, 16.0, 2100.0};
    plan.gears = {0.000529, 33, 66, {27, 29, 31, 33, 35, 37, 39, 41}, {60, 66, 72}};
}

void setDrive(PlanInput& plan) {
    auto& m = plan.motor;
    m.kv_rpm_per_V = 2650.0, m.resistance_ohm = 0.0062, m.no_load_current_A = 4.2, m.no_load_voltage_V = 14.8;
    m.timing_deg = 10.0, m.inertia_kgm2 = 4.2e-6, m.poles = 4, m.max_speed_rpm = 55000.0;
    m.winding_capacity_JpK = 24.0, m.case_capacity_JpK = 105.0, m.winding_case_KpW = 0.35, m.case_air_KpW = 3.8;
    m.cooling_coefficient = 0.06, m.iron_loss_to_winding = 0.2;
    auto& c = plan.controller;
    c.resistance_ohm = 0.0011, c.rate_per_s = 4.0, c.motor_current_limit_A = 220.0, c.pack_current_limit_A = 160.0;
    c.continuous_A = 150.0, c.burst_A = 300.0, c.aux_current_A = 0.6;
    c.cutoff = {CutoffMode::Soft, 3.2, 0.5};
    c.switch_time_s = 1.2e-7, c.idle_W = 1.5, c.capacity_JpK = 85.0, c.case_air_KpW = 2.6, c.cooling_coefficient = 0.05;
    c.max_electrical_rpm = 250000.0;
    auto& p = plan.pack;
    p.series = 4, p.capacity_Ah = 5.2, p.cell_resistance_ohm = 0.0014, p.cell_resistance_B_K = 1800.0;
    p.lead_resistance_ohm = 0.0008, p.rc_resistance_ohm = 0.003, p.rc_capacitance_F = 2500.0;
    p.continuous_c_rate = 35.0, p.burst_c_rate = 60.0, p.capacity_JpK = 480.0, p.case_air_KpW = 4.5;
}

} // namespace

PlanInput examplePlan() {
    PlanInput plan;
    plan.air = {22.0, std::nullopt, 120.0, 0.55};
    plan.wind = {1.5, 250.0};
    plan.venue = {260.0, 110.0, 20.0, 0.002, 80.0, 0.95};
    setChassis(plan);
    setDrive(plan);
    plan.start = {28.0, 28.0, 32.0};
    plan.drive.throttle_ramp_s = 1.2;
    plan.drive.brake_weight_fraction = 0.45;
    plan.drive.target_mps = 40.0;
    plan.drive.turn_around_s = 180.0;
    plan.drive.passes = 2;
    plan.uncertainty = {{"air.temperature_C", 1.0},         {"wind.speed_mps", 0.7},
                        {"venue.friction", 0.06},           {"vehicle.mass_kg", 0.02},
                        {"vehicle.drag_area_m2", 0.001},    {"vehicle.driveline_efficiency", 0.015},
                        {"vehicle.rolling_c0", 0.003},      {"tyre.radius_m", 0.0003},
                        {"motor.kv_rpm_per_V", 40.0},       {"motor.resistance_ohm", 0.0005},
                        {"pack.cell_resistance_ohm", 0.0002}, {"pack.charge", 0.01}};
    return plan;
}

} // namespace rw
