// A plan's document with what was learned put in: everything else stays as it was written, in its order.
#pragma once

#include "core/learn/learn.h"

#include <string>
#include <string_view>

namespace rw {

// `document` is the plan input that was learned from, `plan` what learnedPlan made of it. Numbers read back to the same
// double.
[[nodiscard]] std::string learnedDocument(std::string_view document, const PlanInput& plan, const LearnReport& report);

} // namespace rw
