// A review as a person reads it: the day session by session, pass by pass, then what was found and what to try.
#pragma once

#include "app/batch/text_output.h"
#include "core/review/review.h"

#include <string>

namespace rw::batch {

// units: those of speeds and of the numbers in findings.
[[nodiscard]] std::string reviewText(const Log& log, const LogReview& review, const Ink& ink, const UnitChoice& units);

} // namespace rw::batch
