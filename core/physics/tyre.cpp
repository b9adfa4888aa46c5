#include "core/physics/tyre.h"

#include <algorithm>
#include <cmath>

namespace rw {

double brushForce(const Tyre& tyre, double slip, double friction, double load) {
    const double share = std::min(std::abs(slip) / tyre.edgeSlip(friction), 1.0);
    const double left = 1.0 - share;
    return std::copysign(friction * load * (1.0 - left * left * left), slip);
}

double wheelSpeedFor(const Tyre& tyre, double surfaceSpeed) {
    if (!(surfaceSpeed > 0.0)) return 0.0;
    const double standing = surfaceSpeed / tyre.radius;
    if (tyre.growth == 0.0) return standing;
    // ω r(ω) rises with ω, so its root is single; with the growth at the standing speed Newton starts below or near it.
    double w = surfaceSpeed / tyre.radiusAt(standing);
    constexpr double near = 1e-9; // the next step of Newton's would be of its square's order, below rounding
    for (int i = 0; i < 60; ++i) {
        const double r = tyre.radiusAt(w);
        const double step = (w * r - surfaceSpeed) / (r + w * tyre.radiusSlope(w));
        w -= step;
        if (std::abs(step) <= near * w) break;
    }
    return w;
}

} // namespace rw
