// The strip to scale from above, for paper: run-up, timed zone, coast, braking, what is left, and where the cones
// stand.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/strip.h"

#include <QImage>

namespace rw {

struct StopRange { // m: nine stops in ten lie within; equal to the stop where not known
    double earliest = 0.0, latest = 0.0;
};

// Drawn at `scale` times the size in logical pixels.
[[nodiscard]] QImage drawStrip(const StripMarks& marks, const StopRange& range, const Units& units, QSize size,
                               double scale);

} // namespace rw
