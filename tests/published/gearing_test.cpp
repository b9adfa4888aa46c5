// Gears against the definitions of the trade's standards.
#include "core/physics/gearing.h"

#include "core/units.h"

#include <gtest/gtest.h>

namespace {

TEST(CentreDistance, isHalfTheSumOfThePitchCircles) {
    // Diametral pitch P is module 25.4/P mm (ISO 54). Pitch circle = teeth × module (metrication reference page);
    // worked by hand.
    EXPECT_NEAR(rw::centreDistance(rw::metrePerInch / 32.0, 15, 46), 24.209375e-3, 1e-15);
    EXPECT_NEAR(rw::centreDistance(rw::metrePerInch / 48.0, 25, 78), 27.25208333e-3, 1e-11);
    EXPECT_NEAR(rw::centreDistance(rw::metrePerInch / 64.0, 30, 90), 23.8125e-3, 1e-15);
    EXPECT_NEAR(rw::centreDistance(1e-3, 15, 46), 30.5e-3, 1e-15);
    EXPECT_NEAR(rw::centreDistance(0.8e-3, 20, 60), 32e-3, 1e-15);
}

TEST(Mount, takesPairsWhoseCentreDistanceIsWithinIt) {
    // m (z1 + z2)/2 for module 0.8: 20/60 is 32 mm exactly; both ends of the range count.
    EXPECT_TRUE(rw::fitsMount(0.8e-3, 20, 60, 32e-3, 40e-3));
    EXPECT_TRUE(rw::fitsMount(0.8e-3, 20, 60, 20e-3, 32e-3));
    EXPECT_FALSE(rw::fitsMount(0.8e-3, 20, 61, 20e-3, 32e-3));
    EXPECT_FALSE(rw::fitsMount(0.8e-3, 19, 60, 32e-3, 40e-3));
}

TEST(Ratio, rolloutAndRoadSpeedFollowFromTheTeeth) {
    // 46/15 with a fixed stage of 2, tyre radius 55 mm, 50000 rpm: arithmetic, 1e-7.
    const double ratio = rw::overallRatio(15, 46, 2.0);
    EXPECT_NEAR(ratio, 6.1333333, 1e-7);
    const double travel = rw::rollout(0.055, ratio);
    EXPECT_NEAR(travel, 56.343781e-3, 1e-9);
    EXPECT_NEAR(travel * 50000.0 / 60.0, 46.953151, 5e-6);
}

} // namespace
