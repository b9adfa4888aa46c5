// The figures of a planned pass, in the order of the JSON result. One table: plan, spread, sensitivity and the screens
// read it.
#pragma once

#include "core/figure.h"
#include "core/pass/pass.h"
#include "core/plan/plan_input.h"

#include <optional>
#include <span>
#include <string_view>

namespace rw {

using PlanFigure = Figure<PlanInput, PassResult>;

[[nodiscard]] std::span<const PlanFigure> planFigures();
[[nodiscard]] const PlanFigure* findPlanFigure(std::string_view key); // null if unknown
// Whether the pass holds the target's mean through the zone; false without a target.
[[nodiscard]] bool makesTarget(const PassResult& pass, std::optional<double> target);

} // namespace rw
