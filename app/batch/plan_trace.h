// The time history of a pass as CSV.
#pragma once

#include "core/plan/plan_input.h"

#include <string>

namespace rw::batch {

// Columns as app/batch/README.md has them, 100 rows a second, events included; at a jump two rows with one time.
[[nodiscard]] std::string traceCsv(const PlanInput& input);

} // namespace rw::batch
