// What a step of the ladder says besides its plan: the change in words and keys, what to expect, when to go on, when to
// stop.
#pragma once

#include "core/choose/ladder.h"

namespace rw {

// `step.plan` and `step.speed` are set; fills in the rest.
void describeStep(LadderStep& step, const PlanInput& before, const LadderOptions& options);

} // namespace rw
