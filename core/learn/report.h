// From an estimate to what is told of it. Internal to core/learn.
#pragma once

#include "core/learn/estimate.h"

namespace rw::learning {

[[nodiscard]] LearnReport reportOf(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs);

// Figures over groups, notes of what does not fit, the model over the log.
void reportResiduals(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs, LearnReport& out);

} // namespace rw::learning
