#include "core/review/align.h"
#include "tests/review/hand_log.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw {
namespace {

using namespace test;

double speedOf(double t) { // three runs of different length and height
    const auto run = [&](double from, double to, double top) {
        return t > from && t < to ? top * std::sin(3.14159265358979 * (t - from) / (to - from)) : 0.0;
    };
    return run(30.0, 41.0, 30.0) + run(100.0, 109.0, 38.0) + run(190.0, 203.0, 33.0);
}

class KnownShift : public testing::TestWithParam<double> {};
TEST_P(KnownShift, isFound) {
    // Closed form: the same signal on two clocks, ten times a second and thirty, shifted, scaled and offset.
    std::vector<double> ta, a, tb, b;
    for (int i = 0; i < 30 * 240; ++i)
        ta.push_back(i / 30.0), a.push_back(2.0 * speedOf(ta.back()) + 1.0);
    for (int i = 0; i < 10 * 150; ++i)
        tb.push_back(i / 10.0), b.push_back(speedOf(tb.back() + GetParam()));
    const auto found = review::alignSpeeds({ta, a, 1.0}, {tb, b, 1.0});
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->offset, GetParam(), 0.01);
    EXPECT_GT(found->correlation, 0.999);
}
INSTANTIATE_TEST_SUITE_P(Shifts, KnownShift, testing::Values(0.0, 20.0, 57.37, 80.013));

TEST(Align, aDriveOfAnotherCarIsNotUsed) {
    HandLog log = goodPass();
    ReviewOptions options;
    options.track.emplace();
    options.track->file = "other.nmea";
    for (int i = 0; i < 900; ++i) {
        GpsFix fix;
        fix.time = i / 10.0;
        fix.speed = 8.0 + 3.0 * std::sin(i * 0.7) * std::cos(i * 0.31);
        options.track->fixes.push_back(fix);
    }
    options.track->rate_Hz = 10.0;
    const LogReview review = reviewLog(log.build(), options);
    ASSERT_TRUE(review.track);
    EXPECT_FALSE(review.track->used);
    EXPECT_FALSE(review.passes.at(0).speedPeak);
}

TEST(Align, aTrackGivesTheMeasuredPeak) {
    HandLog log = goodPass();
    ReviewOptions options;
    options.track.emplace();
    options.track->file = "track.nmea";
    options.track->rate_Hz = 10.0;
    const auto speed = log.of(Quantity::MotorSpeed);
    double peak = 0.0;
    for (int i = 0; i < 800; ++i) {
        GpsFix fix;
        fix.time = 1000.0 + i / 10.0; // a clock of its own, 5 s late
        fix.speed = speed(i / 10.0 + 5.0) / 133.0;
        peak = std::max(peak, fix.speed);
        options.track->fixes.push_back(fix);
    }
    const LogReview review = reviewLog(log.build(), options);
    ASSERT_TRUE(review.track && review.track->used);
    EXPECT_NEAR(*review.track->offset, 5.0, 0.02);
    EXPECT_NEAR(review.passes.at(0).speedPeak.value(), peak, 1e-12);
    EXPECT_FALSE(review.passes[0].speedPeakLowerBound);
}

} // namespace
} // namespace rw
