// The fit without the last pass, and what it says of that pass. Internal to core/learn.
#pragma once

#include "core/learn/estimate.h"

namespace rw::learning {

[[nodiscard]] std::optional<Foretold> foretellLast(const Problem& problem, const Estimated& found,
                                                   const LearnOptions& options);

} // namespace rw::learning
