#include "plotting/contour.h"

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

double lengthOf(const std::vector<QLineF>& lines) {
    double sum = 0.0;
    for (const QLineF& line : lines)
        sum += line.length();
    return sum;
}

// Gauss's formula for the area of a polygon.
double areaOf(const std::vector<QPolygonF>& areas) {
    double sum = 0.0;
    for (const QPolygonF& area : areas)
        for (qsizetype i = 0; i < area.size(); ++i) {
            const QPointF &a = area[i], &b = area[(i + 1) % area.size()];
            sum += 0.5 * (a.x() * b.y() - b.x() * a.y());
        }
    return sum;
}

} // namespace

// The unit circle, closed form: every end lies on it, the pieces add up to 2π and enclose π.
TEST(Contours, ofAParaboloidAreACircle) {
    const Grid grid = gridOf(80, [](double x, double y) { return 1.0 - x * x - y * y; });
    const rw::Contour contour = rw::contourOf(grid.xs, grid.ys, grid.z, 0.0);
    ASSERT_FALSE(contour.lines.empty());
    for (const QLineF& line : contour.lines)
        for (const QPointF& end : {line.p1(), line.p2()})
            EXPECT_NEAR(std::hypot(end.x(), end.y()), 1.0, 2e-3);
    EXPECT_NEAR(lengthOf(contour.lines), 2.0 * std::numbers::pi, 1e-2);
    EXPECT_NEAR(areaOf(contour.areas), std::numbers::pi, 1e-2);
    EXPECT_TRUE(contour.rims.empty());
}

TEST(Contours, ofAPlaneAreAStraightLineAtAnyLevel) {
    const Grid grid = gridOf(7, [](double x, double) { return x; });
    for (const double level : {-1.2, 0.3, 1.9}) {
        const rw::Contour contour = rw::contourOf(grid.xs, grid.ys, grid.z, level);
        EXPECT_NEAR(lengthOf(contour.lines), 4.0, 1e-12);
        for (const QLineF& line : contour.lines)
            EXPECT_NEAR(line.x1(), level, 1e-12);
        EXPECT_NEAR(areaOf(contour.areas), 4.0 * (2.0 - level), 1e-12);
    }
    const double below = -std::numeric_limits<double>::infinity();
    EXPECT_NEAR(areaOf(rw::contourOf(grid.xs, grid.ys, grid.z, below).areas), 16.0, 1e-12);
}

// Two branches that do not cross: over the level through the middle, or each corner for itself.
TEST(Contours, saddleHasTwoBranchesThatDoNotCross) {
    const Grid through = gridOf(1, [](double x, double y) { return x * y + 0.5; });
    const rw::Contour joined = rw::contourOf(through.xs, through.ys, through.z, 0.0);
    EXPECT_EQ(joined.lines.size(), 2U);
    EXPECT_EQ(joined.areas.size(), 1U);
    const Grid apart = gridOf(1, [](double x, double y) { return x * y - 0.5; });
    const rw::Contour parted = rw::contourOf(apart.xs, apart.ys, apart.z, 0.0);
    EXPECT_EQ(parted.lines.size(), 2U);
    EXPECT_EQ(parted.areas.size(), 2U);
    // By symmetry the one leaves what the other covers.
    EXPECT_NEAR(areaOf(joined.areas) + areaOf(parted.areas), 16.0, 1e-12);
}

// The values end half-way: the lowest of four rows is cut in half.
TEST(Contours, endHalfWayToPlacesWithoutAValue) {
    Grid grid = gridOf(4, [](double x, double) { return x + 0.1; });
    for (auto& column : grid.z)
        column[0] = std::numeric_limits<double>::quiet_NaN();
    const rw::Contour contour = rw::contourOf(grid.xs, grid.ys, grid.z, 0.0);
    EXPECT_NEAR(lengthOf(contour.lines), 3.5, 1e-12);
    EXPECT_NEAR(areaOf(contour.areas), 3.5 * 2.1, 1e-12);
    EXPECT_NEAR(lengthOf(contour.rims), 2.1, 1e-12);
}
