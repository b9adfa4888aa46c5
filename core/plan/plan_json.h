// Plan input from and to its JSON document (version 1). Reading never changes a number: what is written reads back bit
// for bit.
#pragma once

#include "core/plan/plan_input.h"

#include <string>
#include <string_view>

namespace rw {

// Throws InputError: file, line and column for broken JSON; file and key path for what is missing, unknown or out of
// range.
[[nodiscard]] PlanInput readPlanInput(std::string_view text, const std::string& fileName);
[[nodiscard]] PlanInput readPlanInputFile(const std::string& path); // "-" is standard input
[[nodiscard]] std::string writePlanInput(const PlanInput& input);   // pretty-printed, complete, ends with a line feed
// A complete valid plan input to start from. The car is invented; samples/plans/invented_light_two_wheel_drive.json is
// the same.
[[nodiscard]] PlanInput examplePlan();

} // namespace rw
