// What logs have taught beside a setup's values: kept as JSON, let go where a value no longer is what was learned, and
// what a fit makes of it. Private to storage.
#pragma once

#include "storage/values.h"

#include <optional>
#include <string>

namespace rw {

// "" where there is none. What is written reads back to the same doubles. Throws InputError(place, …).
[[nodiscard]] std::string writeEvidence(const Evidence& evidence);
[[nodiscard]] Evidence readEvidence(const std::string& json, const std::string& place);
[[nodiscard]] std::string writeLearnedInput(const std::optional<LearnedInput>& learned);
[[nodiscard]] std::optional<LearnedInput> readLearnedInput(const std::string& json, const std::string& place);

// Correlations whose keys both kept value and uncertainty from `was` to `is`.
[[nodiscard]] Evidence stillHeld(Evidence evidence, const Values& was, const Values& is);

void allowEvidence(const Evidence& evidence); // throws InputError

[[nodiscard]] bool carriedByFits(const std::string& key); // one of a part: carried from day to day

// The plan with the fit's values, errors, correlations and gains, of those keys whose value and uncertainty are still
// what the fit started from. None: none is.
[[nodiscard]] std::optional<PlanInput> learnedFrom(const Fit& fit, PlanInput plan);

// The fit's correlations; those of before stay where the fit says nothing of their keys. Its gains, and the logs of
// both.
[[nodiscard]] Evidence evidenceOf(const Fit& fit, Evidence before);

} // namespace rw
