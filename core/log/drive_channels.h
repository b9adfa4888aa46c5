// What only the whole log tells of throttle, output, brake and current: scale, resting value, sign. README.md 1.
#pragma once

#include "core/log/column_match.h"
#include "core/log/log.h"

#include <string>
#include <vector>

namespace rw {

// Throttle, output and brake → 0..1, in place, by unit (`column` of the report) or by range over the log. A column
// whose scale cannot be told loses its quantity. Throttle counts from its resting value: the most frequent while
// current rests (within 2 % of the largest, its zero offset taken off; without current: while the motor stands), if
// that is under 12 %. Rest and zero offset are judged over the whole log here; sessions are cut later.
void settleShares(Log& log, const std::vector<ColumnMeaning>& columns);

// Voltage and current that rise together over load steps: the current's sign is turned, and said.
void settleCurrentSign(Log& log);

} // namespace rw
