// Tyre against the brush model's closed form and the spinning ring.
#include "core/physics/tyre.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

rw::Tyre slick() {
    rw::Tyre tyre;
    tyre.radius = 0.05;
    tyre.slipStiffness = 15.0;
    return tyre;
}

TEST(BrushModel, givesTheForcesOfParabolicPressure) {
    // Pacejka, Tyre and Vehicle Dynamics, section 3.2 (from memory): μ N (1 − (1 − σ)³), σ = C κ/(3 μ); μ 1, C 15, N 30
    // N.
    const double rows[][2] = {{0.01, 4.27875}, {0.05, 17.34375}, {0.1, 26.25}, {0.2, 30.0}, {0.25, 30.0}};
    for (const auto& row : rows) {
        EXPECT_NEAR(rw::brushForce(slick(), row[0], 1.0, 30.0), row[1], 1e-10);
        EXPECT_NEAR(rw::brushForce(slick(), -row[0], 1.0, 30.0), -row[1], 1e-10);
    }
    // Slope at no slip: C N.
    EXPECT_NEAR(rw::brushForce(slick(), 1e-9, 1.0, 30.0) / 1e-9, 450.0, 450.0 * 1e-6);
}

TEST(Growth, followsItsLawAndTheSpinningRingWhenSlow) {
    // r0 (1 + γ ω²/(ω² + ω_h²)), r0 50 mm, γ 0.12, ω_h 900: by hand, 1e-8.
    rw::Tyre tyre = slick();
    tyre.growth = 0.12;
    tyre.halfGrowthSpeed = 900.0;
    const double rows[][2] = {{100.0, 0.0500731707}, {450.0, 0.0512}, {900.0, 0.053}, {1800.0, 0.0548}};
    for (const auto& row : rows)
        EXPECT_NEAR(tyre.radiusAt(row[0]), row[1], 1e-8 * row[1]);
    // Thin rotating ring, Δr/r = ρ ω² r²/E (Roark, from memory; the limit of the rotating disk's stress in Shigley,
    // Mischke, Mechanical Engineering Design, 5th ed.): ρ 1100 and E 18.5625 MPa give the same start; at 100 rad/s
    // within 1.3 %.
    const double ring = 1100.0 * 100.0 * 100.0 * 0.05 * 0.05 / 18.5625e6;
    EXPECT_NEAR(tyre.radiusAt(100.0) / 0.05 - 1.0, ring, 0.013 * ring);
    EXPECT_NEAR(tyre.radiusAt(1.0) / 0.05 - 1.0, ring * 1e-4, 1e-5 * ring * 1e-4 + 1e-15);
}

TEST(Growth, slopeIsTheDerivative) {
    rw::Tyre tyre = slick();
    tyre.growth = 0.12;
    tyre.halfGrowthSpeed = 900.0;
    for (const double w : {10.0, 300.0, 900.0, 3000.0}) {
        const double h = 1e-3 * w;
        EXPECT_NEAR(tyre.radiusSlope(w), (tyre.radiusAt(w + h) - tyre.radiusAt(w - h)) / (2.0 * h),
                    1e-5 * tyre.radiusSlope(w));
    }
}

TEST(WheelSpeed, isTheRootOfSurfaceSpeed) {
    // ω r(ω) = v: put back, to double precision; without growth v/r0.
    rw::Tyre tyre = slick();
    EXPECT_DOUBLE_EQ(rw::wheelSpeedFor(tyre, 40.0), 800.0);
    for (const double growth : {0.05, 0.3, 2.0}) {
        tyre.growth = growth;
        for (const double speed : {1e-6, 0.3, 12.0, 45.0, 90.0, 400.0}) {
            const double w = rw::wheelSpeedFor(tyre, speed);
            EXPECT_NEAR(w * tyre.radiusAt(w), speed, 4e-16 * speed);
        }
    }
    EXPECT_EQ(rw::wheelSpeedFor(tyre, 0.0), 0.0);
    EXPECT_EQ(rw::wheelSpeedFor(tyre, -1.0), 0.0);
}

} // namespace
