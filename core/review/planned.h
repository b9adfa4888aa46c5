// The plan run from a pass's own start: its temperatures and its resting voltage. core/review/README.md "off-plan".
// Internal to core/review.
#pragma once

#include "core/review/context.h"

namespace rw::review {

// The plan with a pass's start temperatures and the charge that its resting voltage tells. Needs a plan.
[[nodiscard]] PlanInput planFrom(const Context& context, std::size_t pass);
// m/s of zone speed that the low-voltage cutoff took by the plan; none without a plan, or where the plan has no cutoff.
[[nodiscard]] std::optional<double> speedLostToCutoff(const Context& context, std::size_t pass);

} // namespace rw::review
