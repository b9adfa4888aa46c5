// A complete valid plan input to start from. The car is invented.
#pragma once

#include "core/plan/plan_input.h"

namespace rw {

[[nodiscard]] PlanInput examplePlan();

} // namespace rw
