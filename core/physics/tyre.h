// Tyre: growth under spin and slip under force. core/physics/README.md 3.
// Sources: Pacejka, Tyre and Vehicle Dynamics, ch. 3 (brush model, parabolic pressure); Roark (spinning ring, small
// speeds).
#pragma once

namespace rw {

struct Tyre {
    double radius = 0.0;             // m, standing
    double growth = 0.0;             // largest growth, fraction of the radius
    double halfGrowthSpeed = 1000.0; // rad/s at half of it
    double slipStiffness = 0.0;      // C, per newton of load, 1

    [[nodiscard]] double radiusAt(double wheelSpeed) const {
        const double s = wheelSpeed * wheelSpeed;
        return radius * (1.0 + growth * s / (s + halfGrowthSpeed * halfGrowthSpeed));
    }
    // dr/dω
    [[nodiscard]] double radiusSlope(double wheelSpeed) const {
        const double h = halfGrowthSpeed * halfGrowthSpeed;
        const double sum = wheelSpeed * wheelSpeed + h;
        return radius * growth * 2.0 * wheelSpeed * h / (sum * sum);
    }
    // Slip at the edge of sliding, 3μ/C.
    [[nodiscard]] double edgeSlip(double friction) const { return 3.0 * friction / slipStiffness; }
};

// Longitudinal force of the brush model, N; signed like the slip, at most μN. Load ≥ 0.
[[nodiscard]] double brushForce(const Tyre& tyre, double slip, double friction, double load);
// Smallest ω > 0 with ω r(ω) = surfaceSpeed; 0 where surfaceSpeed ≤ 0. Full double precision.
[[nodiscard]] double wheelSpeedFor(const Tyre& tyre, double surfaceSpeed);

} // namespace rw
