// Weights as printed by Savitzky, Golay, Anal. Chem. 36 (1964) 1627-1639 (the tables' integers and norms), and in exact
// fractions of the least-squares polynomials.
#include "core/log/savitzky_golay.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

struct Printed {
    rw::SavitzkyGolay filter;
    int at;
    std::vector<double> numerators;
    double norm;
};

TEST(SavitzkyGolay, weightsAreThePublishedOnes) {
    const std::vector<Printed> table{
        {{5, 2, 0}, 2, {-3, 12, 17, 12, -3}, 35},
        {{5, 3, 0}, 2, {-3, 12, 17, 12, -3}, 35},
        {{7, 2, 0}, 3, {-2, 3, 6, 7, 6, 3, -2}, 21},
        {{9, 2, 0}, 4, {-21, 14, 39, 54, 59, 54, 39, 14, -21}, 231},
        {{7, 4, 0}, 3, {5, -30, 75, 131, 75, -30, 5}, 231},
        {{7, 5, 0}, 3, {5, -30, 75, 131, 75, -30, 5}, 231},
        {{5, 1, 1}, 2, {-2, -1, 0, 1, 2}, 10},
        {{5, 2, 1}, 2, {-2, -1, 0, 1, 2}, 10},
        {{7, 2, 1}, 3, {-3, -2, -1, 0, 1, 2, 3}, 28},
        {{9, 2, 1}, 4, {-4, -3, -2, -1, 0, 1, 2, 3, 4}, 60},
        {{5, 3, 1}, 2, {1, -8, 0, 8, -1}, 12},
        {{7, 3, 1}, 3, {22, -67, -58, 0, 58, 67, -22}, 252},
        {{5, 2, 2}, 2, {2, -1, -2, -1, 2}, 7},
        {{7, 2, 2}, 3, {5, 0, -3, -4, -3, 0, 5}, 42},
        // The first point of a record: the parabola of the first five points, evaluated at its end.
        {{5, 2, 0}, 0, {31, 9, -3, -5, 3}, 35},
        {{5, 2, 1}, 0, {-54, 13, 40, 27, -26}, 70},
    };
    for (const Printed& row : table) {
        const std::vector<double> weights = rw::savitzkyGolayWeights(row.filter, row.at);
        ASSERT_EQ(weights.size(), row.numerators.size());
        for (std::size_t i = 0; i < weights.size(); ++i)
            EXPECT_NEAR(weights[i], row.numerators[i] / row.norm, 1e-14)
                << row.filter.points << " points, order " << row.filter.order << ", derivative "
                << row.filter.derivative;
    }
}

// A polynomial of the filter's order comes through unchanged, at the ends too (closed form).
TEST(SavitzkyGolay, keepsItsOwnPolynomialsEverywhere) {
    std::vector<double> values, slopes;
    const double step = 0.02;
    for (int i = 0; i < 40; ++i) {
        const double t = i * step;
        values.push_back(2.0 - 3.0 * t + 5.0 * t * t);
        slopes.push_back(-3.0 + 10.0 * t);
    }
    const std::vector<double> smooth = rw::savitzkyGolay(values, step, {7, 2, 0});
    const std::vector<double> slope = rw::savitzkyGolay(values, step, {7, 2, 1});
    for (std::size_t i = 0; i < values.size(); ++i) {
        EXPECT_NEAR(smooth[i], values[i], 1e-12);
        EXPECT_NEAR(slope[i], slopes[i], 1e-10);
    }
}

} // namespace
