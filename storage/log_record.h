// What the garage keeps of a log that was read and reviewed.
#pragma once

#include "core/log/log.h"
#include "core/review/review.h"
#include "storage/garage.h"

#include <string>
#include <string_view>

namespace rw {

// Key of a pass's median pack current at full output, A: kept beside the figures of the review, since readings of rpm
// per volt compare only at like load.
inline constexpr std::string_view fullOutputFigure = "full_output_A";

// Name (folders taken off), rows, start where the log tells a date, dialect, review, edits, sessions and passes with
// all their figures; setup, outing, map and notes are left to the caller.
[[nodiscard]] LogRecord logRecord(PackedLog packed, const Log& log, const LogReview& review,
                                  const ReviewEdits& edits = {});

// The owner's edits as the JSON document that a log keeps, and back (log_said.cpp). "" is no edits. Throws InputError
// where it is none.
[[nodiscard]] std::string writeReviewEdits(const ReviewEdits& edits);
[[nodiscard]] ReviewEdits readReviewEdits(const std::string& json);

} // namespace rw
