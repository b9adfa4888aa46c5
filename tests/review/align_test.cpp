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

// Two passes that look alike, and noise that makes the wrong one a hair the better: the lag at which both are covered.
TEST(Align, passesThatLookAlikeAreNotLaidOneTooFar) {
    const auto speed = [](double t) {
        const auto run = [&](double from) {
            return t > from && t < from + 9.0 ? 36.0 * std::sin(3.14159265 * (t - from) / 9.0) : 0.0;
        };
        return run(30.0) + run(110.0);
    };
    std::vector<double> ta, a, tb, b;
    for (int i = 0; i < 20 * 180; ++i)
        ta.push_back(i / 20.0), a.push_back(speed(ta.back()));
    for (int i = 0; i < 190; ++i) { // one a second, the second pass measured a little worse
        const double now = i - 12.0;
        tb.push_back(i), b.push_back(speed(now) + (now > 100.0 && now < 125.0 ? 0.8 * std::cos(2.0 * i) : 0.0));
    }
    const auto found = review::alignSpeeds({ta, a, 1.0}, {tb, b, 2.5});
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->offset, -12.0, 0.1);
    EXPECT_GT(found->covered, 0.99);
}

// A car is in one place: of two sessions the later one cannot lie in the track before or across the earlier one.
TEST(Align, sessionsKeepTheirOrderOnTheTrack) {
    HandLog log = goodPass();
    Log twice = log.build();
    const std::size_t rows = twice.rows();
    twice.time.insert(twice.time.end(), twice.time.begin(), twice.time.begin() + static_cast<std::ptrdiff_t>(rows));
    for (std::size_t i = 0; i < rows; ++i)
        twice.line.push_back(static_cast<std::uint32_t>(twice.line[rows - 1] + 1 + i));
    for (Channel& channel : twice.channels)
        if (channel.present())
            channel.values.insert(channel.values.end(), channel.values.begin(),
                                  channel.values.begin() + static_cast<std::ptrdiff_t>(rows));
    twice.marks.push_back({RowMark::Kind::TimeSteppedBack, rows});
    ReviewOptions options;
    options.track.emplace();
    options.track->rate_Hz = 10.0;
    const auto speed = log.of(Quantity::MotorSpeed);
    for (int i = 0; i < 10 * static_cast<int>(twice.time[rows - 1]); ++i) { // of the first session only
        GpsFix fix;
        fix.time = 500.0 + i / 10.0;
        fix.speed = speed(i / 10.0) / 133.0;
        options.track->fixes.push_back(fix);
    }
    const LogReview review = reviewLog(twice, options);
    ASSERT_EQ(review.sessions.size(), 2U);
    ASSERT_EQ(review.passes.size(), 2U);
    EXPECT_NE(review.passes[0].speedPeak.has_value(), review.passes[1].speedPeak.has_value());
}

// A track that begins within a pass tells neither its distance nor where the zone was.
TEST(Align, aTrackThatMissesAPassesStartGivesNoDistance) {
    HandLog log = goodPass();
    ReviewOptions options;
    options.track.emplace();
    options.track->rate_Hz = 10.0;
    const auto speed = log.of(Quantity::MotorSpeed);
    const double from = reviewLog(log.build()).passes.at(0).start + 2.0;
    for (int i = 0; i < 500; ++i) {
        GpsFix fix;
        fix.time = i / 10.0;
        fix.speed = speed(from + i / 10.0) / 133.0;
        options.track->fixes.push_back(fix);
    }
    const LogReview review = reviewLog(log.build(), options);
    ASSERT_TRUE(review.track && review.track->used);
    EXPECT_TRUE(review.passes.at(0).speedPeak);
    EXPECT_FALSE(review.passes[0].distance);
}

} // namespace
} // namespace rw
