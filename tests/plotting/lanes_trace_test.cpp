#include "plotting/lanes_paint.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace {

using Column = std::vector<double>;

rw::LaneTime every(const Column& times) { return {nullptr, times}; }

} // namespace

TEST(LanesGeometry, pixelsAndTimesAreInverse) {
    const auto g = rw::LanesGeometry::of({900.0, 500.0}, 5, {120.0, 180.0});
    EXPECT_DOUBLE_EQ(g.pixelOf(120.0), g.left);
    EXPECT_DOUBLE_EQ(g.pixelOf(180.0), g.right);
    for (const double t : {120.0, 133.7, 180.0})
        EXPECT_NEAR(g.timeOf(g.pixelOf(t)), t, 1e-9);
    EXPECT_GT(g.pixelOf(1, 0.0, {0.0, 1.0}), g.pixelOf(1, 1.0, {0.0, 1.0}));
    EXPECT_DOUBLE_EQ(g.pixelOf(1, 0.0, {0.0, 1.0}), g.laneBottom(1));
}

TEST(TraceExtents, holdTheWholeLineAtAnyZoom) {
    // The line between samples, sampled finely, must lie within its column's extent; and no extent may be wider than
    // what the line covers there and at the edge of its neighbours.
    std::mt19937 random(11);
    std::normal_distribution<double> noise;
    Column times;
    Column values;
    for (int i = 0; i < 3000; ++i) {
        times.push_back(0.02 * i);
        values.push_back(noise(random));
    }
    const rw::LaneTime time = every(times);
    const rw::MinMaxPyramid pyramid(values);
    for (const double span : {59.9, 20.0, 3.0, 0.5}) {
        const auto g = rw::LanesGeometry::of({800.0, 300.0}, 1, {0.05, 0.05 + span});
        const rw::PixelColumns columns = rw::pixelColumns(g, time, 1.0);
        const std::vector<rw::Extent> extents = rw::traceExtents(columns, time, pyramid);
        for (std::size_t i = 0; i < extents.size(); ++i) {
            for (int k = 0; k < 20; ++k) {
                const double t = columns.times[i] + (columns.times[i + 1] - columns.times[i]) * k / 20.0;
                const auto row = static_cast<std::size_t>(t / 0.02);
                if (row + 1 >= values.size()) continue;
                const double share = (t - times[row]) / 0.02;
                const double on = values[row] + share * (values[row + 1] - values[row]);
                // Dense columns may leave out the bit of line before their first sample: it is within one sample step.
                const bool dense = columns.rows[i + 1] - columns.rows[i] >= 4;
                if (dense && (row < columns.rows[i] || row + 1 >= columns.rows[i + 1])) continue;
                ASSERT_GE(on, extents[i].low - 1e-9) << span << ", column " << i;
                ASSERT_LE(on, extents[i].high + 1e-9) << span << ", column " << i;
            }
        }
    }
}

TEST(TraceExtents, leaveGapsAndMissingSamplesOpen) {
    Column times;
    Column values;
    for (int i = 0; i < 1000; ++i) {
        times.push_back(0.1 * i + (i >= 500 ? 60.0 : 0.0)); // a minute without rows
        values.push_back(i >= 200 && i < 300 ? std::nan("") : 1.0);
    }
    const rw::LaneTime time = every(times);
    ASSERT_EQ(time.breaks, std::vector<std::size_t>{500});
    const rw::MinMaxPyramid pyramid(values);
    const auto g = rw::LanesGeometry::of({1000.0, 300.0}, 1, {0.0, 160.0});
    const auto columns = rw::pixelColumns(g, time, 1.0);
    const auto extents = rw::traceExtents(columns, time, pyramid);
    const auto at = [&](double t) {
        return extents[static_cast<std::size_t>((t - g.time.from) / g.time.span() * (g.right - g.left))];
    };
    EXPECT_FALSE(at(10.0).empty());
    EXPECT_TRUE(at(25.0).empty());
    EXPECT_FALSE(at(40.0).empty());
    EXPECT_TRUE(at(80.0).empty());
    EXPECT_FALSE(at(120.0).empty());
}

TEST(TraceExtents, neighbouringColumnsMeetAtAJump) {
    Column times;
    Column values;
    for (int i = 0; i < 100'000; ++i) {
        times.push_back(0.01 * i);
        values.push_back(i < 50'000 ? 0.0 : 100.0);
    }
    const rw::LaneTime time = every(times);
    const auto g = rw::LanesGeometry::of({800.0, 300.0}, 1, {0.0, 1000.0});
    const auto extents = rw::traceExtents(rw::pixelColumns(g, time, 1.0), time, rw::MinMaxPyramid(values));
    for (std::size_t i = 1; i + 1 < extents.size(); ++i) {
        ASSERT_LE(extents[i].low, extents[i - 1].high) << i;
        ASSERT_GE(extents[i].high, extents[i - 1].low) << i;
    }
}
