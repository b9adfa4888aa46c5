// Values that no such vehicle has: said, with the factor or unit that would make sense of them. README.md 1 "Columns".
#pragma once

#include "core/log/log.h"

namespace rw {

// Looks at the largest value (99.9th percentile of the amounts) of each channel that comes from a column. What is
// implausible is noted, and told in the column's `doubt` and `likelyFactor`; nothing is changed by itself.
void doubtImplausible(Log& log);

} // namespace rw
