// The figures of a pass in their display units, in the order and with the names of the JSON result. One table: plan,
// spread, sensitivity and the screens read it.
#pragma once

#include "core/pass/pass.h"
#include "core/plan/plan_input.h"

#include <optional>
#include <span>
#include <string_view>

namespace rw {

struct PlanFigure {
    std::string_view name;  // "zone_mean_mps"
    std::string_view label; // "mean through the zone"
    std::string_view unit;  // "m/s"
    int decimals = 2;       // for people
    std::optional<double> (*get)(const PlanInput&, const PassResult&) = nullptr;
};

[[nodiscard]] std::span<const PlanFigure> planFigures();
[[nodiscard]] const PlanFigure* findPlanFigure(std::string_view name); // null if unknown
// Whether the pass holds the target's mean through the zone; false without a target.
[[nodiscard]] bool makesTarget(const PassResult& pass, std::optional<double> target);

} // namespace rw
