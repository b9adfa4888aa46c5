#include "core/physics/heat.h"

#include <cmath>

namespace rw {

double AirCooling::resistance(double speed) const {
    return speed > 0.0 ? standing / (1.0 + coefficient * std::pow(speed, 0.8)) : standing;
}

namespace {

// x' = A x for the differences to the air; slow and fast eigenvalue (both negative), and the case's share in each mode.
struct Modes {
    double slow = 0.0, fast = 0.0; // 1/s
    double windingSlow = 0.0, windingFast = 0.0;
    double caseSlow = 0.0, caseFast = 0.0; // K
};

Modes modes(const TwoNodeHeat& heat, TwoNodeTemperatures start, double air) {
    const double b = 1.0 / (heat.windingCapacity * heat.windingToCase); // winding row: -b, b
    const double c = 1.0 / (heat.caseCapacity * heat.windingToCase);    // case row: c, -c - d
    const double d = 1.0 / (heat.caseCapacity * heat.toAir.standing);
    const double sum = b + c + d;
    const double root = std::sqrt((b - c - d) * (b - c - d) + 4.0 * b * c);
    Modes m;
    m.fast = -0.5 * (sum + root);
    m.slow = b * d / m.fast; // product of the roots is b d: free of cancellation
    const double w = start.winding - air;
    const double h = start.motorCase - air;
    // Case: h(t) = hs e^{slow t} + hf e^{fast t}; h'(0) = c w - (c + d) h.
    const double rate = c * w - (c + d) * h;
    const double gap = m.slow - m.fast;
    m.caseSlow = (rate - m.fast * h) / gap;
    m.caseFast = (m.slow * h - rate) / gap;
    const double windingRate = b * (h - w);
    m.windingSlow = (windingRate - m.fast * w) / gap;
    m.windingFast = (m.slow * w - windingRate) / gap;
    return m;
}

} // namespace

TwoNodeTemperatures cool(const TwoNodeHeat& heat, TwoNodeTemperatures start, double air, double seconds) {
    const Modes m = modes(heat, start, air);
    const double slow = std::exp(m.slow * seconds);
    const double fast = std::exp(m.fast * seconds);
    return {air + m.windingSlow * slow + m.windingFast * fast, air + m.caseSlow * slow + m.caseFast * fast};
}

CasePeak casePeak(const TwoNodeHeat& heat, TwoNodeTemperatures start, double air) {
    const double h = start.motorCase - air;
    const double rising = (start.winding - start.motorCase) / heat.windingToCase - h / heat.toAir.standing;
    if (rising <= 0.0) {
        // Falls at once. From under the air it may dip and climb again: then the air is the largest if the case is
        // below it.
        if (h >= 0.0) return {start.motorCase, 0.0};
        return {air, std::nullopt};
    }
    const Modes m = modes(heat, start, air);
    // h' = 0: caseSlow·slow·e^{slow t} = -caseFast·fast·e^{fast t}.
    const double ratio = -m.caseFast * m.fast / (m.caseSlow * m.slow);
    if (!(m.caseSlow > 0.0) || !(ratio > 1.0)) return {air, std::nullopt};
    const double t = std::log(ratio) / (m.slow - m.fast);
    return {air + m.caseSlow * std::exp(m.slow * t) + m.caseFast * std::exp(m.fast * t), t};
}

double settle(const OneNodeHeat& heat, double start, double air, double watts, double seconds) {
    const double final = air + watts * heat.toAir.standing;
    return final + (start - final) * std::exp(-seconds / (heat.capacity * heat.toAir.standing));
}

} // namespace rw
