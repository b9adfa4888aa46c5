// The plan input, version 1: every quantity that a planned pass depends on, as the JSON document holds it.
// Plain values. A name carries its unit where that is not SI (temperatures °C, angles degrees, ampere hours);
// numbers are kept in the document's own units so that reading and writing returns the same doubles.
// Meaning, range, default and how to measure each field: plan_fields.h. Conversion to SI: pass_setup.cpp.
#pragma once

#include "core/physics/chassis.h"
#include "core/physics/controller.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace rw {

struct OcvPoint {
    double charge = 0.0;        // 0..1
    double volts_perCell = 0.0; // V
    bool operator==(const OcvPoint&) const = default;
};

// Two uncertain inputs that are not independent. core/learn/README.md.
struct KeyCorrelation {
    std::string first, second; // keys of PlanInput::uncertainty
    double coefficient = 0.0;  // of their normal scores, between -1 and 1, ends excluded
    bool operator==(const KeyCorrelation&) const = default;
};

struct Estimate {
    double value = 0.0, uncertainty = 0.0;
    bool operator==(const Estimate&) const = default;
};

// What logs have taught beside the values themselves: the sensors of this controller, and which logs were used.
struct LearnedInput {
    Estimate currentGain{1.0, 0.03}, voltageGain{1.0, 0.005}; // reading over truth
    Estimate currentZero_A{0.0, 1.0};                         // reading at no current
    std::vector<std::string> logs;                            // SHA-256, lower-case hexadecimal
    bool operator==(const LearnedInput&) const = default;
};

// Typical lithium-polymer cell: common practice, from memory.
[[nodiscard]] std::vector<OcvPoint> defaultOcv();

struct PlanInput {
    struct AirInput {
        double temperature_C = 20.0;
        std::optional<double> pressure_Pa; // station pressure; wins over the elevation
        double elevation_m = 0.0;
        double relative_humidity = 0.5;
        bool operator==(const AirInput&) const = default;
    } air;
    struct WindInput {
        double speed_mps = 0.0;
        double from_deg = 0.0;
        bool operator==(const WindInput&) const = default;
    } wind;
    struct VenueInput {
        double length_m = 0.0, run_up_m = 0.0, timed_m = 0.0;
        double grade = 0.0; // rise/run, positive uphill
        double heading_deg = 0.0;
        double friction = 0.0;
        bool operator==(const VenueInput&) const = default;
    } venue;
    struct VehicleInput {
        double mass_kg = 0.0, wheelbase_m = 0.0, cg_behind_front_m = 0.0, cg_height_m = 0.0;
        DrivenAxle driven = DrivenAxle::Rear;
        double drag_area_m2 = 0.0;
        std::optional<double> drag_height_m;                      // default: cg_height_m
        double lift_area_front_m2 = 0.0, lift_area_rear_m2 = 0.0; // up positive
        double rolling_c0 = 0.0, rolling_c2_s2pm2 = 0.0;
        double internal_ratio = 1.0, driveline_efficiency = 1.0, drag_torque_Nm = 0.0;
        double wheel_inertia_kgm2 = 0.0; // all wheels together
        double mesh_min_m = 0.0, mesh_max_m = 1.0;
        bool operator==(const VehicleInput&) const = default;
    } vehicle;
    struct TyreInput {
        double radius_m = 0.0, growth = 0.0, growth_half_speed_radps = 1000.0, slip_stiffness = 0.0;
        std::optional<double> max_speed_radps;
        bool operator==(const TyreInput&) const = default;
    } tyre;
    struct GearsInput {
        double module_m = 0.0;
        int pinion_teeth = 0, spur_teeth = 0;
        std::vector<int> pinions, spurs; // each once, in the order given; default: the fitted one
        bool operator==(const GearsInput&) const = default;
    } gears;
    struct MotorInput {
        double kv_rpm_per_V = 0.0, resistance_ohm = 0.0, no_load_current_A = 0.0, no_load_voltage_V = 0.0;
        double timing_deg = 0.0, magnet_coefficient_per_K = -0.0011, inertia_kgm2 = 0.0;
        int poles = 4;
        std::optional<double> max_speed_rpm;
        double winding_capacity_JpK = 0.0, case_capacity_JpK = 0.0, winding_case_KpW = 0.0, case_air_KpW = 0.0;
        double cooling_coefficient = 0.0, iron_loss_to_winding = 0.0;
        double comfort_C = 80.0, limit_C = 100.0, winding_limit_C = 150.0;
        std::optional<double> mass_kg; // part of the vehicle's mass
        bool operator==(const MotorInput&) const = default;
    } motor;
    struct CutoffInput {
        CutoffMode mode = CutoffMode::Off;
        std::optional<double> cell_V; // needed unless off
        double delay_s = 0.5;
        bool operator==(const CutoffInput&) const = default;
    };
    struct ControllerInput {
        double resistance_ohm = 0.0, endpoint = 1.0;
        std::optional<double> rate_per_s, motor_current_limit_A, pack_current_limit_A, continuous_A, burst_A;
        double aux_current_A = 0.0;
        CutoffInput cutoff;
        double pwm_Hz = 12000.0, switch_time_s = 0.0, input_capacitance_F = 0.0015, input_esr_ohm = 0.005, idle_W = 0.0;
        double capacity_JpK = 0.0, case_air_KpW = 0.0, cooling_coefficient = 0.0, comfort_C = 80.0, limit_C = 100.0;
        std::optional<double> max_electrical_rpm;
        std::optional<int> max_cells;  // in series
        std::optional<double> mass_kg; // part of the vehicle's mass
        bool operator==(const ControllerInput&) const = default;
    } controller;
    struct PackInput {
        int series = 0, parallel = 1;
        double capacity_Ah = 0.0, cell_resistance_ohm = 0.0, cell_resistance_B_K = 0.0, lead_resistance_ohm = 0.0;
        double rc_resistance_ohm = 0.0;         // 0: no RC pair
        std::optional<double> rc_capacitance_F; // needed with a pair
        std::vector<OcvPoint> ocv = defaultOcv();
        double charge = 1.0;
        std::optional<double> continuous_c_rate; // null: no rating
        std::optional<double> burst_c_rate;      // default: continuous_c_rate
        double capacity_JpK = 0.0, case_air_KpW = 0.0, cooling_coefficient = 0.0, comfort_C = 50.0, limit_C = 60.0;
        std::optional<double> mass_kg; // part of the vehicle's mass
        bool operator==(const PackInput&) const = default;
    } pack;
    struct StartInput {
        std::optional<double> motor_C, controller_C, pack_C; // default: air temperature
        bool operator==(const StartInput&) const = default;
    } start;
    struct DriveInput {
        double throttle_ramp_s = 0.5, reaction_s = 0.3, brake_weight_fraction = 0.4, brake_heat_fraction = 0.0;
        std::optional<double> target_mps;
        double turn_around_s = 60.0;
        int passes = 1;
        bool operator==(const DriveInput&) const = default;
    } drive;
    std::map<std::string, double> uncertainty; // "group.key" -> standard uncertainty in the key's unit
    std::vector<KeyCorrelation> correlation;
    std::optional<LearnedInput> learned;

    bool operator==(const PlanInput&) const = default;
};

} // namespace rw
