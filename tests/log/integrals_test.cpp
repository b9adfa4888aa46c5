#include "core/log/integrals.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::vector<double> ramp(int count, double step) {
    std::vector<double> time;
    for (int i = 0; i < count; ++i)
        time.push_back(i * step);
    return time;
}

// The trapezoid rule is exact for straight lines: ∫ (3 − 2t) dt over 0…2 is 2, its negative part −1/4 (closed form).
TEST(Integral, isExactForAStraightLineAndSplitsItWhereItCrossesZero) {
    const std::vector<double> time = ramp(9, 0.25);
    std::vector<double> values;
    for (const double t : time)
        values.push_back(3.0 - 2.0 * t);
    const rw::Integral integral = rw::integrate(time, values, 1.0);
    EXPECT_DOUBLE_EQ(integral.net, 2.0);
    EXPECT_DOUBLE_EQ(integral.negative, -0.25);
    EXPECT_DOUBLE_EQ(integral.covered, 2.0);
}

// Crossing between two samples: from +1 to −3 over 1 s the line is below 0 for 3/4 s with mean −3/2: −1.125 (closed
// form).
TEST(Integral, negativePartOfOneStep) {
    const rw::Integral integral = rw::integrate(std::vector{0.0, 1.0}, std::vector{1.0, -3.0}, 2.0);
    EXPECT_DOUBLE_EQ(integral.net, -1.0);
    EXPECT_DOUBLE_EQ(integral.negative, -1.125);
}

// ∫ sin over a whole period is 0 and its negative part −2; the rule's error is of second order (closed form).
TEST(Integral, convergesWithTheSquareOfTheStep) {
    double error[2] = {};
    for (int k = 0; k < 2; ++k) {
        const int n = 200 << k;
        const std::vector<double> time = ramp(n + 1, 2.0 * std::numbers::pi / n);
        std::vector<double> values;
        for (const double t : time)
            values.push_back(std::sin(t));
        error[k] = std::abs(rw::integrate(time, values, 1.0).negative + 2.0);
    }
    EXPECT_NEAR(error[0] / error[1], 4.0, 0.01);
}

TEST(Integral, crossesNoGapAndNoMissingSample) {
    const std::vector<double> time{0.0, 1.0, 2.0, 10.0, 11.0, 12.0, 5.0, 6.0};
    const std::vector<double> values{1.0, 1.0, 1.0, 1.0, nan, 1.0, 1.0, 1.0};
    const rw::Integral integral = rw::integrate(time, values, 1.5);
    EXPECT_DOUBLE_EQ(integral.covered, 3.0)
        << "two steps, not the gap, not the missing one, not the step back, one step";
    EXPECT_DOUBLE_EQ(integral.net, 3.0);
    EXPECT_EQ(rw::integrate({}, {}, 1.0).net, 0.0);
}

TEST(MedianStep, leavesOutStepsBackAndEqualStamps) {
    EXPECT_DOUBLE_EQ(rw::medianStep(std::vector{0.0, 0.5, 0.5, 1.0, 0.0, 0.5, 3.0}), 0.5);
    EXPECT_EQ(rw::medianStep(std::vector{1.0}), 0.0);
    EXPECT_NEAR(rw::medianStep(ramp(1'000'000, 0.02)), 0.02, 1e-9);
}

TEST(GapLimit, needsBothFiveStepsAndHalfASecond) {
    EXPECT_DOUBLE_EQ(rw::gapLimit(0.02), 0.5);
    EXPECT_DOUBLE_EQ(rw::gapLimit(0.2), 1.0);
}

} // namespace
