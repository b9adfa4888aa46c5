// What logs have taught beside a setup's values: kept as JSON, and let go where a value no longer is what was learned.
// Private to storage.
#pragma once

#include "storage/values.h"

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

} // namespace rw
