// Each field's usual range, and the standard uncertainty that its way of measuring (`measure` in its row) reaches when
// done with care at home. Common practice, from memory; the numbers belong to the sentences of the rows.
#include "core/plan/plan_field_builder.h"

#include <array>

namespace rw {

namespace {

constexpr MethodUncertainty share(double relative) { return {relative, 0.0}; }
constexpr MethodUncertainty within(double absolute) { return {0.0, absolute}; }
constexpr MethodUncertainty exact{};

struct FieldNumbers {
    std::string_view key;
    double low, high;
    MethodUncertainty measurable;
};

constexpr std::array courseNumbers{
    FieldNumbers{"air.temperature_C", 5, 35, within(1)},
    FieldNumbers{"air.pressure_Pa", 85000, 104000, within(200)},
    FieldNumbers{"air.elevation_m", 0, 500, within(10)},
    FieldNumbers{"air.relative_humidity", 0.3, 0.8, within(0.05)},
    FieldNumbers{"wind.speed_mps", 0, 3, within(0.5)},
    FieldNumbers{"wind.from_deg", 0, 360, within(15)},
    FieldNumbers{"venue.length_m", 150, 1500, share(0.003)}, // measuring wheel
    FieldNumbers{"venue.run_up_m", 30, 800, share(0.003)},
    FieldNumbers{"venue.timed_m", 10, 100, share(0.001)}, // tape
    FieldNumbers{"venue.grade", -0.01, 0.01, within(0.001)},
    FieldNumbers{"venue.heading_deg", 0, 360, within(5)},
    FieldNumbers{"venue.friction", 0.6, 1.8, share(0.05)},
    FieldNumbers{"start.motor_C", 5, 60, within(2)},
    FieldNumbers{"start.controller_C", 5, 45, within(2)},
    FieldNumbers{"start.pack_C", 5, 45, within(2)},
    FieldNumbers{"drive.throttle_ramp_s", 0.5, 3, within(0.05)},
    FieldNumbers{"drive.reaction_s", 0.2, 0.5, within(0.05)},
    FieldNumbers{"drive.brake_weight_fraction", 0.2, 0.5, within(0.03)},
    FieldNumbers{"drive.brake_heat_fraction", 0, 0.3, within(0.05)},
    FieldNumbers{"drive.target_mps", 15, 80, exact},
    FieldNumbers{"drive.turn_around_s", 60, 600, share(0.02)},
    FieldNumbers{"drive.passes", 1, 4, exact},
};

constexpr std::array vehicleNumbers{
    FieldNumbers{"vehicle.mass_kg", 0.8, 12, share(0.002)}, // kitchen scale
    FieldNumbers{"vehicle.wheelbase_m", 0.18, 0.6, within(0.001)},
    FieldNumbers{"vehicle.cg_behind_front_m", 0.08, 0.36, share(0.01)},
    FieldNumbers{"vehicle.cg_height_m", 0.02, 0.08, share(0.10)},
    FieldNumbers{"vehicle.drag_area_m2", 0.001, 0.08, share(0.08)}, // coast-down
    FieldNumbers{"vehicle.drag_height_m", 0.02, 0.13, share(0.15)},
    FieldNumbers{"vehicle.lift_area_front_m2", -0.01, 0.01, within(0.002)},
    FieldNumbers{"vehicle.lift_area_rear_m2", -0.02, 0.01, within(0.002)},
    FieldNumbers{"vehicle.rolling_c0", 0.015, 0.05, share(0.10)},
    FieldNumbers{"vehicle.rolling_c2_s2pm2", 0, 1e-5, within(2e-6)},
    FieldNumbers{"vehicle.internal_ratio", 1, 4.5, share(0.001)},
    FieldNumbers{"vehicle.driveline_efficiency", 0.85, 0.98, within(0.01)},
    FieldNumbers{"vehicle.drag_torque_Nm", 0, 0.05, within(0.003)},
    FieldNumbers{"vehicle.wheel_inertia_kgm2", 2e-5, 3e-3, share(0.10)},
    FieldNumbers{"vehicle.mesh_min_m", 0.015, 0.04, within(1e-4)},
    FieldNumbers{"vehicle.mesh_max_m", 0.02, 0.06, within(1e-4)},
    FieldNumbers{"tyre.radius_m", 0.025, 0.065, share(0.003)}, // ten turns
    FieldNumbers{"tyre.growth", 0, 0.3, within(0.01)},
    FieldNumbers{"tyre.growth_half_speed_radps", 500, 1500, share(0.15)},
    FieldNumbers{"tyre.slip_stiffness", 10, 25, share(0.10)},
    FieldNumbers{"tyre.max_speed_radps", 1000, 2500, share(0.05)},
    FieldNumbers{"gears.module_m", 0.0004, 0.0015, share(0.001)},
    FieldNumbers{"gears.pinion_teeth", 10, 50, exact},
    FieldNumbers{"gears.spur_teeth", 30, 90, exact},
    FieldNumbers{"gears.pinions", 10, 50, exact},
    FieldNumbers{"gears.spurs", 30, 90, exact},
};

constexpr std::array motorNumbers{
    FieldNumbers{"motor.kv_rpm_per_V", 600, 7000, share(0.01)}, // drill
    FieldNumbers{"motor.resistance_ohm", 0.0005, 0.04, share(0.05)},
    FieldNumbers{"motor.no_load_current_A", 0.5, 15, share(0.05)},
    FieldNumbers{"motor.no_load_voltage_V", 7, 50, share(0.005)},
    FieldNumbers{"motor.timing_deg", 0, 30, within(2)},
    FieldNumbers{"motor.magnet_coefficient_per_K", -0.0012, -0.0009, within(5e-5)},
    FieldNumbers{"motor.inertia_kgm2", 5e-7, 5e-5, share(0.20)},
    FieldNumbers{"motor.poles", 2, 14, exact},
    FieldNumbers{"motor.max_speed_rpm", 40000, 60000, share(0.02)},
    FieldNumbers{"motor.mass_kg", 0.08, 1.1, share(0.002)},
    FieldNumbers{"motor.winding_capacity_JpK", 5, 150, share(0.10)},
    FieldNumbers{"motor.case_capacity_JpK", 30, 600, share(0.10)},
    FieldNumbers{"motor.winding_case_KpW", 0.1, 1, share(0.15)},
    FieldNumbers{"motor.case_air_KpW", 1.5, 18, share(0.10)},
    FieldNumbers{"motor.cooling_coefficient", 0, 0.2, within(0.03)},
    FieldNumbers{"motor.iron_loss_to_winding", 0, 0.5, within(0.1)},
    FieldNumbers{"motor.comfort_C", 70, 90, within(3)},
    FieldNumbers{"motor.limit_C", 90, 110, within(3)},
    FieldNumbers{"motor.winding_limit_C", 150, 180, within(3)},
};

constexpr std::array controllerNumbers{
    FieldNumbers{"controller.resistance_ohm", 0.0001, 0.003, share(0.10)},
    FieldNumbers{"controller.endpoint", 0.5, 1, within(0.01)},
    FieldNumbers{"controller.rate_per_s", 1, 10, share(0.10)},
    FieldNumbers{"controller.motor_current_limit_A", 80, 500, share(0.03)},
    FieldNumbers{"controller.pack_current_limit_A", 60, 400, share(0.03)},
    FieldNumbers{"controller.continuous_A", 60, 400, share(0.05)},
    FieldNumbers{"controller.burst_A", 100, 1500, share(0.05)},
    FieldNumbers{"controller.aux_current_A", 0.3, 2, share(0.10)},
    FieldNumbers{"controller.cutoff.cell_V", 3.0, 3.4, within(0.02)},
    FieldNumbers{"controller.cutoff.delay_s", 0, 1, within(0.1)},
    FieldNumbers{"controller.pwm_Hz", 8000, 32000, share(0.01)},
    FieldNumbers{"controller.switch_time_s", 5e-8, 3e-7, share(0.20)},
    FieldNumbers{"controller.input_capacitance_F", 0.001, 0.004, share(0.10)},
    FieldNumbers{"controller.input_esr_ohm", 0.003, 0.02, share(0.20)},
    FieldNumbers{"controller.idle_W", 1, 5, share(0.10)},
    FieldNumbers{"controller.capacity_JpK", 30, 250, share(0.10)},
    FieldNumbers{"controller.case_air_KpW", 0.5, 12, share(0.10)},
    FieldNumbers{"controller.cooling_coefficient", 0, 0.2, within(0.03)},
    FieldNumbers{"controller.comfort_C", 70, 90, within(3)},
    FieldNumbers{"controller.limit_C", 95, 110, within(3)},
    FieldNumbers{"controller.max_electrical_rpm", 100000, 400000, share(0.02)},
    FieldNumbers{"controller.max_cells", 4, 12, exact},
    FieldNumbers{"controller.mass_kg", 0.05, 0.4, share(0.002)},
};

constexpr std::array packNumbers{
    FieldNumbers{"pack.series", 2, 12, exact},
    FieldNumbers{"pack.parallel", 1, 2, exact},
    FieldNumbers{"pack.capacity_Ah", 2, 10, share(0.02)},
    FieldNumbers{"pack.cell_resistance_ohm", 0.0005, 0.005, share(0.08)}, // charger
    FieldNumbers{"pack.cell_resistance_B_K", 0, 3000, within(300)},
    FieldNumbers{"pack.lead_resistance_ohm", 0.0003, 0.002, share(0.10)},
    FieldNumbers{"pack.rc_resistance_ohm", 0.001, 0.04, share(0.15)},
    FieldNumbers{"pack.rc_capacitance_F", 200, 10000, share(0.20)},
    FieldNumbers{"pack.charge", 0.5, 1, within(0.01)},
    FieldNumbers{"pack.continuous_c_rate", 20, 120, share(0.10)},
    FieldNumbers{"pack.burst_c_rate", 30, 200, share(0.10)},
    FieldNumbers{"pack.capacity_JpK", 80, 3000, share(0.05)},
    FieldNumbers{"pack.case_air_KpW", 1, 15, share(0.10)},
    FieldNumbers{"pack.cooling_coefficient", 0, 0.1, within(0.03)},
    FieldNumbers{"pack.mass_kg", 0.1, 3, share(0.002)},
    FieldNumbers{"pack.comfort_C", 45, 55, within(3)},
    FieldNumbers{"pack.limit_C", 55, 65, within(3)},
};

} // namespace

void addFieldNumbers(std::vector<PlanField>& fields) {
    const auto put = [&](const auto& numbers) {
        for (const FieldNumbers& row : numbers) {
            for (PlanField& field : fields) {
                if (!row.key.starts_with(field.group) || !row.key.ends_with(field.name) || row.key != field.key())
                    continue;
                field.usualLow = row.low, field.usualHigh = row.high, field.measurableTo = row.measurable;
            }
        }
    };
    put(courseNumbers);
    put(vehicleNumbers);
    put(motorNumbers);
    put(controllerNumbers);
    put(packNumbers);
}

} // namespace rw
