// Slow channels: each has an interval of its own, is held between its values and missing beyond. README.md 1.
#pragma once

#include "core/log/column_match.h"
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

// What only the whole log tells of throttle, output, brake and current: scale, resting value, sign: drive_channels.cpp.
// Throttle, output and brake → 0..1, in place, by unit (`column` of the report) or by range over the log. A column
// whose scale cannot be told loses its quantity. Throttle counts from its resting value: the most frequent while
// current rests (within 2 % of the largest, its zero offset taken off; without current: while the motor stands), if
// that is under 12 %. Rest and zero offset are judged over the whole log here; sessions are cut later.
void settleShares(Log& log, const std::vector<ColumnMeaning>& columns);

// Voltage and current that rise together over load steps: the current's sign is turned, and said.
void settleCurrentSign(Log& log);

// Measured speed of a log that tells places and no speed, worked out as for a GPX track: place_speed.cpp.
// Adds the speed channel (derived: column −1) and a note, where the log has both columns finished, no speed, and the
// place changes at all. A place that is written again is no new fix; at standstill one is taken every median interval.
// Nothing is worked out across a mark, a step back in time, a missing place, or 0, 0 (what receivers write without
// fix).
void addSpeedFromPlaces(Log& log);

// Values that no such vehicle has: said, with the factor or unit that would make sense of them: plausible.cpp.
// Looks at the largest value (99.9th percentile of the amounts) of each channel that comes from a column. What is
// implausible is noted, and told in the column's `doubt` and `likelyFactor`; nothing is changed by itself.
void doubtImplausible(Log& log);

} // namespace rw
