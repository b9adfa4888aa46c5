// What the garage keeps of a log that was read and reviewed.
#pragma once

#include "core/log/log.h"
#include "core/review/review.h"
#include "storage/garage.h"

#include <string>

namespace rw {

// Name (folders taken off), rows, dialect, review, edits, sessions and passes with all their figures; setup, outing,
// map and notes are left to the caller.
[[nodiscard]] LogRecord logRecord(PackedLog packed, const Log& log, const LogReview& review,
                                  const ReviewEdits& edits = {});

// The owner's edits as the JSON document that a log keeps, and back. "" is no edits. Throws InputError where it is
// none.
[[nodiscard]] std::string writeReviewEdits(const ReviewEdits& edits);
[[nodiscard]] ReviewEdits readReviewEdits(const std::string& json);

// What the garage knows for the review of a log that was driven with `setup`: with a venue the whole plan (the outing's
// weather in place of the venue's), else its cutoff alone; the pack's and the setup's earlier readings.
// The venue is the one given, else the outing's, else that of the newest outing with this setup.
[[nodiscard]] ReviewOptions reviewOptions(Garage& garage, Id setup, std::optional<Id> outing = {},
                                          std::optional<Id> venue = {});

} // namespace rw
