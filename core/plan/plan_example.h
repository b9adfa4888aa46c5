// A complete valid plan input to start from. The car is invented; samples/plans/invented_light_two_wheel_drive.json is
// the same.
#pragma once

#include "core/plan/plan_input.h"

namespace rw {

[[nodiscard]] PlanInput examplePlan();

} // namespace rw
