// Limits of the owner's own, the values of a limit set: plan keys over a plan's, "review.NAME" over the thresholds of
// the review. What they leave out stays.
#pragma once

#include "core/review/thresholds.h"
#include "storage/garage.h"

#include <string>

namespace rw {

// Numbers and texts alone, as a log keeps them. `place` is for the message where the id is no limit set's (InputError).
[[nodiscard]] Values ownLimits(Garage& garage, Id id, const std::string& place);
[[nodiscard]] std::string thresholdKey(std::string_view name); // "review.NAME"

void putLimits(const Values& own, const std::string& name, PlanInput& plan); // throws as checkPlanInput
void putThresholds(const Values& own, ReviewThresholds& thresholds);         // throws as setThreshold

} // namespace rw
