// Rounded rows as straight lines: what rounding hid of a ramp comes back. The ramps are closed forms.
#include "core/learn/drive_line.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rw::learning {

namespace {

// A ramp that opens at `open`, rises by `slope` a second to `full`, as rows of so many a second write it.
std::vector<DriveRow> ramp(double open, double slope, double full, double rate, double step) {
    std::vector<DriveRow> out;
    for (int i = 0; i < static_cast<int>(6.0 * rate); ++i) {
        const double t = i / rate;
        const double level = std::clamp(slope * (t - open), 0.0, full);
        const double written = step > 0.0 ? step * std::round(level / step) : level;
        if (written > 0.0) out.push_back({t, written});
    }
    return out;
}

double at(const std::vector<DriveRow>& knots, double t) {
    for (std::size_t k = 1; k < knots.size(); ++k)
        if (t <= knots[k].time)
            return knots[k - 1].ask +
                   (knots[k].ask - knots[k - 1].ask) * (t - knots[k - 1].time) / (knots[k].time - knots[k - 1].time);
    return knots.back().ask;
}

TEST(DriveLine, ARampAndItsCornerComeBackFromRoundedRows) {
    constexpr double step = 0.005;
    for (const double rate : {10.0, 20.0, 50.0})
        for (const double open : {0.213, 0.371}) {
            const DriveLine line = drawnThrough(ramp(open, 0.57, 0.87, rate, step), 0.6 * step);
            ASSERT_LE(line.knots.size(), 4U);
            // 0.14 of a step is what a single row is off, root mean square; a line over ten rows and more is a third.
            const double corner = open + 0.87 / 0.57;
            for (const double t : {open + 0.4, open + 0.9, corner, corner + 0.5})
                EXPECT_NEAR(at(line.knots, t), std::min(0.57 * (t - open), 0.87), 0.4 * step) << rate << " at " << t;
            EXPECT_NEAR(line.slope, 0.57, 0.006);
        }
}

// Full output does not chop, a hair less does and heats the controller (core/physics/README.md 5).
TEST(DriveLine, FullStaysExactlyFull) {
    const DriveLine line = drawnThrough(ramp(0.213, 0.57, 1.0, 50.0, 0.005), 0.003);
    ASSERT_GE(line.knots.size(), 3U);
    EXPECT_EQ(line.knots.back().ask, 1.0);
    EXPECT_EQ(line.knots[line.knots.size() - 2].ask, 1.0);
}

TEST(DriveLine, WhatJumpsJumpsBetweenTwoRows) {
    std::vector<DriveRow> rows;
    for (int i = 0; i < 40; ++i)
        rows.push_back({0.05 * i, i < 20 ? 0.3 : 0.8});
    const DriveLine line = drawnThrough(rows, 0.003);
    ASSERT_EQ(line.knots.size(), 4U);
    EXPECT_DOUBLE_EQ(line.knots[1].time, 0.95);
    EXPECT_DOUBLE_EQ(line.knots[2].time, 1.0);
}

TEST(DriveLine, OneRowIsItself) {
    const DriveLine line = drawnThrough({{1.0, 0.4}}, 0.003);
    EXPECT_EQ(line.knots.front().ask, 0.4);
    EXPECT_EQ(line.rows, 1U);
}

} // namespace

} // namespace rw::learning
