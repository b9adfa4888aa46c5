// Slow channels: each has an interval of its own, is held between its values and missing beyond. README.md 1.
#pragma once

#include "core/log/log.h"

#include <span>
#include <vector>

namespace rw {

// Fills interval_s, step, missing and the rows between a channel's values. marks: nothing is held across them.
void finishChannel(Channel& channel, const std::vector<double>& time, const std::vector<RowMark>& marks);

// Smallest difference between neighbouring values of a sample of the column, in its unit; 0: fewer than two values.
[[nodiscard]] double quantisationStep(std::span<const double> values);

// A share (0..1) of a sample of the column's values, NaN left out; NaN if there are none. 0.999 is "largest" in a
// review.
[[nodiscard]] double percentile(std::span<const double> values, double share);

} // namespace rw
