// The strip to scale from above, for paper: run-up, timed zone, coast, braking, what is left, and where the cones
// stand.
#pragma once

#include "app/desktop/shared/units.h"

#include <QImage>

namespace rw {

struct StripMeasures { // m along the strip; past the zone's end
    double runUp = 0.0, timed = 0.0, coastEnd = 0.0, stop = 0.0, length = 0.0;
    double stopEarliest = 0.0, stopLatest = 0.0; // 90 % interval; equal to stop where unknown
};

// Drawn at `scale` times the size in logical pixels.
[[nodiscard]] QImage drawStrip(const StripMeasures& measures, const Units& units, QSize size, double scale);

} // namespace rw
