// Sensitivity: one input at a time moved by its standard uncertainty, both ways. core/physics/README.md 11.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct SensitivityChange {
    std::string_view figure; // of plan_figures.h, of the first pass
    std::optional<double> down,
        up; // figure with the input moved down and up, less the plan's; none where there is none
};

struct Sensitivity {
    std::string key;        // "motor.kv_rpm_per_V"
    double deviation = 0.0; // standard uncertainty, in the key's unit
    std::vector<SensitivityChange> changes;
};

struct SensitivityResult {
    std::vector<Sensitivity> inputs; // largest change of the zone mean first
};

// Zone mean, peak pack current, lowest cell voltage, case soak, controller and pack peak, stop. Values move no further
// than their valid range allows. Throws InputError for an invalid input.
[[nodiscard]] SensitivityResult planSensitivity(const PlanInput& input, const WorkOptions& options = {});

} // namespace rw
