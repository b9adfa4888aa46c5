// The plan as one pass of a log was really driven: from that pass's own start.
#pragma once

#include "core/review/review.h"

namespace rw {

// The plan with the pass's start temperatures, the charge that its resting voltage tells and the time that its throttle
// took to open. What the log does not tell stays as planned. startState() of it is the pass's start.
[[nodiscard]] PlanInput plannedPass(const PlanInput& plan, const ReviewPass& pass);

} // namespace rw
