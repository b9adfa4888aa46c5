// From an estimate to what is told of it. Internal to core/learn.
#pragma once

#include "core/learn/estimate.h"

namespace rw::learning {

[[nodiscard]] LearnReport reportOf(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs);

// What a value so far from what was entered usually comes from; "a wrong …, or …".
[[nodiscard]] std::string usualCause(const std::string& key);

// The fit without the last pass, and what it says of that pass.
[[nodiscard]] std::optional<Foretold> foretellLast(const Problem& problem, const Estimated& found,
                                                   const LearnOptions& options);

// Figures over groups, notes of what does not fit, the model over the log.
void reportResiduals(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs, LearnReport& out);

} // namespace rw::learning
