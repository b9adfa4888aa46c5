// Gears between motor and wheels. core/physics/README.md 2 and 8. Modules in metres.
// Sources: ISO 54; Machinery's Handbook (from memory).
#pragma once

namespace rw {

struct Gearing {
    double ratio = 1.0;      // motor turns per wheel turn, every stage
    double efficiency = 1.0; // 0..1, of the driveline
    double dragTorque = 0.0; // N·m at the wheels, constant
};

[[nodiscard]] double overallRatio(int pinionTeeth, int spurTeeth, double internalRatio);
// Travel per motor turn, m, on the tyre's standing radius.
[[nodiscard]] double rollout(double radius, double overallRatio);
[[nodiscard]] double centreDistance(double module, int pinionTeeth, int spurTeeth);
// Whether the pair's centre distance lies within the mount's, ends included (to a rounding of 1e-12 m).
[[nodiscard]] bool fitsMount(double module, int pinionTeeth, int spurTeeth, double least, double largest);

} // namespace rw
