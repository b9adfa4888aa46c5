// Measured speed of a log that tells places (latitude, longitude) and no speed: worked out as for a GPX track.
#pragma once

#include "core/log/log.h"

namespace rw {

// Adds the speed channel (derived: column −1) and a note, where the log has both columns finished, no speed, and the
// place changes at all. A place that is written again is no new fix; at standstill one is taken every median interval.
// Nothing is worked out across a mark, a step back in time, a missing place, or 0, 0 (what receivers write without
// fix).
void addSpeedFromPlaces(Log& log);

} // namespace rw
