// Gears between motor and wheels. core/physics/README.md 2 and 8. Modules in metres.
// Sources: ISO 54; Machinery's Handbook (from memory).
#pragma once

#include <numbers>

namespace rw {

struct Gearing {
    double ratio = 1.0;      // motor turns per wheel turn, every stage
    double efficiency = 1.0; // 0..1, of the driveline
    double dragTorque = 0.0; // N·m at the wheels, constant
};

[[nodiscard]] inline double overallRatio(int pinionTeeth, int spurTeeth, double internalRatio) {
    return static_cast<double>(spurTeeth) / static_cast<double>(pinionTeeth) * internalRatio;
}

// Travel per motor turn, m, on the tyre's standing radius.
[[nodiscard]] inline double rollout(double radius, double overallRatio) {
    return 2.0 * std::numbers::pi * radius / overallRatio;
}

[[nodiscard]] inline double centreDistance(double module, int pinionTeeth, int spurTeeth) {
    return module * static_cast<double>(pinionTeeth + spurTeeth) / 2.0;
}

// Whether the pair's centre distance lies within the mount's, ends included (to a rounding of 1e-12 m).
[[nodiscard]] inline bool fitsMount(double module, int pinionTeeth, int spurTeeth, double least, double largest) {
    constexpr double rounding = 1e-12; // a pair exactly at an end must not fall out by the product's last bit
    const double distance = centreDistance(module, pinionTeeth, spurTeeth);
    return distance >= least - rounding && distance <= largest + rounding;
}

} // namespace rw
