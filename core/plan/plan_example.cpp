#include "core/plan/plan_json.h"

namespace rw {

namespace {

void setChassis(PlanInput& plan) {
    auto& v = plan.vehicle;
    v.mass_kg = 1.72, v.wheelbase_m = 0.262, v.cg_behind_front_m = 0.146, v.cg_height_m = 0.026;
    v.driven = DrivenAxle::Rear;
    v.drag_area_m2 = 0.0098, v.drag_height_m = 0.04, v.lift_area_front_m2 = -0.004, v.lift_area_rear_m2 = -0.019;
    v.rolling_c0 = 0.026, v.rolling_c2_s2pm2 = 3e-6;
    v.internal_ratio = 1.0, v.driveline_efficiency = 0.95, v.drag_torque_Nm = 0.006, v.wheel_inertia_kgm2 = 0.000085;
    v.mesh_min_m = 0.0225, v.mesh_max_m = 0.0295;
    plan.tyre = {0.0305, 0.02, 1400.0, 17.0, 1900.0};
    plan.gears = {0.000529, 25, 72, {20, 21, 22, 23, 24, 25, 26, 27, 28, 30}, {69, 72, 76, 81}};
}

void setDrive(PlanInput& plan) {
    auto& m = plan.motor;
    m.kv_rpm_per_V = 2850.0, m.resistance_ohm = 0.0071, m.no_load_current_A = 4.6, m.no_load_voltage_V = 14.8;
    m.timing_deg = 15.0, m.inertia_kgm2 = 3.4e-6, m.max_speed_rpm = 55000.0;
    m.winding_capacity_JpK = 16.0, m.case_capacity_JpK = 78.0, m.winding_case_KpW = 0.42, m.case_air_KpW = 4.6;
    m.cooling_coefficient = 0.05, m.iron_loss_to_winding = 0.2;
    auto& c = plan.controller;
    c.resistance_ohm = 0.0012, c.rate_per_s = 3.0, c.motor_current_limit_A = 150.0, c.pack_current_limit_A = 110.0;
    c.continuous_A = 130.0, c.burst_A = 240.0, c.aux_current_A = 0.5;
    c.cutoff = {CutoffMode::Soft, 3.3, 0.5};
    c.pwm_Hz = 16000.0, c.switch_time_s = 1.2e-7, c.input_capacitance_F = 0.0018, c.input_esr_ohm = 0.006,
    c.idle_W = 1.2;
    c.capacity_JpK = 55.0, c.case_air_KpW = 3.4, c.cooling_coefficient = 0.04, c.max_electrical_rpm = 240000.0;
    auto& p = plan.pack;
    p.series = 4, p.capacity_Ah = 4.2, p.cell_resistance_ohm = 0.0018, p.cell_resistance_B_K = 1900.0;
    p.lead_resistance_ohm = 0.0009, p.rc_resistance_ohm = 0.004, p.rc_capacitance_F = 1900.0;
    p.continuous_c_rate = 30.0, p.burst_c_rate = 50.0, p.capacity_JpK = 390.0, p.case_air_KpW = 5.0;
}

} // namespace

PlanInput examplePlan() {
    PlanInput plan;
    plan.air = {24.0, std::nullopt, 180.0, 0.5};
    plan.wind = {1.6, 285.0};
    plan.venue = {280.0, 95.0, 20.0, 0.002, 90.0, 1.12};
    setChassis(plan);
    setDrive(plan);
    plan.start = {38.0, 34.0, 35.0};
    plan.drive = {1.5, 0.35, 0.4, 0.15, 44.5, 150.0, 2};
    plan.uncertainty = {{"air.temperature_C", 1},
                        {"wind.speed_mps", 0.8},
                        {"venue.friction", 0.07},
                        {"vehicle.mass_kg", 0.015},
                        {"vehicle.cg_height_m", 0.0026},
                        {"vehicle.drag_area_m2", 0.0008},
                        {"vehicle.lift_area_rear_m2", 0.003},
                        {"vehicle.rolling_c0", 0.004},
                        {"vehicle.driveline_efficiency", 0.012},
                        {"vehicle.wheel_inertia_kgm2", 1.3e-05},
                        {"tyre.radius_m", 0.0003},
                        {"tyre.growth", 0.006},
                        {"motor.kv_rpm_per_V", 45},
                        {"motor.resistance_ohm", 0.0006},
                        {"motor.no_load_current_A", 0.46},
                        {"motor.case_capacity_JpK", 10},
                        {"motor.winding_case_KpW", 0.06},
                        {"motor.case_air_KpW", 0.83},
                        {"controller.resistance_ohm", 0.00024},
                        {"controller.capacity_JpK", 9.9},
                        {"pack.cell_resistance_ohm", 0.0003},
                        {"pack.charge", 0.01}};
    return plan;
}

} // namespace rw
