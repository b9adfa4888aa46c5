// What a scale, a ruler and the boxes tell of a car: the document "labels", version 1, from which a whole plan is
// estimated. Plain values in the document's own units, as in plan_input.h; empty where nothing was typed.
#pragma once

#include "core/plan/plan_fields.h"

#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

enum class BodyClass { Streamlined, Low, Saloon, Truck, Open };
enum class TyreKind { Rubber, Foam, Belted };
enum class Surface { CleanAsphalt, DustyAsphalt, Concrete, Damp };

struct LabelsInput {
    struct VehicleLabels {
        std::optional<double> mass_kg, wheelbase_m, width_m, height_m;
        std::optional<BodyClass> body;
        std::optional<DrivenAxle> driven;
        std::optional<double> internal_ratio;
        double mesh_min_m = 0.0, mesh_max_m = 1.0;
        std::optional<double> front_axle_kg; // load on the front axle as a scale shows it; none: half
        bool operator==(const VehicleLabels&) const = default;
    } vehicle;
    struct TyreLabels {
        std::optional<double> diameter_m;
        std::optional<TyreKind> kind;
        std::optional<double> max_speed_radps;
        bool operator==(const TyreLabels&) const = default;
    } tyre;
    struct GearLabels {
        std::optional<double> module_m;
        std::vector<int> pinions, spurs;             // at hand, each once
        std::optional<int> pinion_teeth, spur_teeth; // fitted; none: the middle of the list
        bool operator==(const GearLabels&) const = default;
    } gears;
    struct MotorLabels {
        std::optional<double> kv_rpm_per_V;
        int poles = 4;
        std::optional<double> mass_kg; // or both measures of the can
        std::optional<double> can_diameter_m, can_length_m;
        double timing_deg = 0.0;
        std::optional<double> max_speed_rpm;
        double comfort_C = 80.0, limit_C = 100.0, winding_limit_C = 150.0;
        bool operator==(const MotorLabels&) const = default;
    } motor;
    struct ControllerLabels {
        std::optional<double> continuous_A, burst_A, mass_kg;
        bool fan = true;
        std::optional<double> max_electrical_rpm;
        PlanInput::CutoffInput cutoff;
        bool operator==(const ControllerLabels&) const = default;
    } controller;
    struct PackLabels {
        std::optional<int> series;
        int parallel = 1;
        std::optional<double> capacity_Ah, continuous_c_rate, burst_c_rate, mass_kg;
        bool operator==(const PackLabels&) const = default;
    } pack;
    struct VenueLabels {
        std::optional<double> length_m, run_up_m, timed_m;
        std::optional<Surface> surface;
        double elevation_m = 0.0;
        std::optional<double> temperature_C; // none: 20, hardly known
        bool operator==(const VenueLabels&) const = default;
    } venue;
    std::optional<double> target_mps;

    // Values beyond labels, by the plan's key ("vehicle.drag_area_m2"): each replaces its estimate.
    std::map<std::string, double> beyond;
    // Keys of labels whose value was measured with care instead of read: kv, mass, tyre diameter.
    std::set<std::string> measured;

    bool operator==(const LabelsInput&) const = default;
};

using LabelField = InputField<LabelsInput>; // none where empty

[[nodiscard]] std::span<const LabelField> labelFields(); // in the order of the document
[[nodiscard]] const LabelField* findLabelField(std::string_view key);
// The plan's keys that may be given beyond labels, in the plan's order.
[[nodiscard]] std::span<const PlanField* const> fieldsBeyondLabels();
// Labels of which the value can be measured better than it is printed, and the plan's key for each.
[[nodiscard]] const std::map<std::string, std::string>& measurableLabels();

// Labels that are empty and without which there is no plan; of motor mass and can only the mass.
[[nodiscard]] std::vector<const LabelField*> missingLabels(const LabelsInput& labels);
// Throws InputError: what is missing, out of range or contradicts another label. Strip and zone: by checkPlanInput.
void checkLabels(const LabelsInput& labels, const std::string& fileName);

} // namespace rw
