#include "plotting/map_chart.h"

#include <gmock/gmock.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace {

struct Grid {
    std::vector<double> xs, ys;
    std::vector<std::vector<double>> z;
};

Grid gridOf(int steps, double (*f)(double x, double y)) {
    Grid grid;
    for (int i = 0; i <= steps; ++i) {
        grid.xs.push_back(-2.0 + 4.0 * i / steps);
        grid.ys.push_back(-2.0 + 4.0 * i / steps);
    }
    for (const double x : grid.xs) {
        grid.z.emplace_back();
        for (const double y : grid.ys)
            grid.z.back().push_back(f(x, y));
    }
    return grid;
}

double lengthOf(const std::vector<std::pair<QPointF, QPointF>>& segments) {
    double sum = 0.0;
    for (const auto& [a, b] : segments)
        sum += std::hypot(b.x() - a.x(), b.y() - a.y());
    return sum;
}

} // namespace

// The unit circle, closed form: every end lies on it and the pieces add up to 2π.
TEST(Contours, ofAParaboloidAreACircle) {
    const Grid grid = gridOf(80, [](double x, double y) { return 1.0 - x * x - y * y; });
    const auto segments = rw::contourSegments(grid.xs, grid.ys, grid.z, 0.0);
    ASSERT_FALSE(segments.empty());
    for (const auto& [a, b] : segments)
        for (const QPointF& end : {a, b})
            EXPECT_NEAR(std::hypot(end.x(), end.y()), 1.0, 2e-3);
    EXPECT_NEAR(lengthOf(segments), 2.0 * std::numbers::pi, 1e-2);
}

TEST(Contours, ofAPlaneAreAStraightLineAtAnyLevel) {
    const Grid grid = gridOf(7, [](double x, double) { return x; });
    for (const double level : {-1.2, 0.3, 1.9}) {
        const auto segments = rw::contourSegments(grid.xs, grid.ys, grid.z, level);
        EXPECT_NEAR(lengthOf(segments), 4.0, 1e-12);
        for (const auto& [a, b] : segments)
            EXPECT_NEAR(a.x(), level, 1e-12);
    }
}

TEST(Contours, saddleHasTwoBranchesThatDoNotCross) {
    const Grid grid = gridOf(1, [](double x, double y) { return x * y + 0.5; });
    EXPECT_EQ(rw::contourSegments(grid.xs, grid.ys, grid.z, 0.0).size(), 2U);
}

TEST(Contours, leaveOutCellsWithoutAValue) {
    Grid grid = gridOf(4, [](double x, double) { return x + 0.1; });
    for (auto& column : grid.z)
        column[0] = std::numeric_limits<double>::quiet_NaN();
    EXPECT_NEAR(lengthOf(rw::contourSegments(grid.xs, grid.ys, grid.z, 0.0)), 3.0, 1e-12);
}
