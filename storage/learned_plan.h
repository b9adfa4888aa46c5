// What a fit that lies in the garage says of a setup's plan, for logs that are judged by it. Private to storage.
#pragma once

#include "core/plan/plan_input.h"
#include "storage/values.h"

#include <optional>
#include <string>

namespace rw {

[[nodiscard]] bool carriedByFits(const std::string& key); // one of a part: carried from day to day

// The plan with the fit's values, errors, correlations and gains, of those keys whose value and uncertainty are still
// what the fit started from. None: none is.
[[nodiscard]] std::optional<PlanInput> learnedFrom(const Fit& fit, PlanInput plan);

// The fit's correlations; those of before stay where the fit says nothing of their keys. Its gains, and the logs of
// both.
[[nodiscard]] Evidence evidenceOf(const Fit& fit, Evidence before);

} // namespace rw
