#include "core/log/savitzky_golay.h"

#include <array>
#include <cassert>
#include <cmath>
#include <limits>

namespace rw {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr int mostOrder = 6;

// Gram polynomials (discrete Legendre over −m…m) by their recurrence: orthogonal, so no normal equations to solve.
// Gorry, Anal. Chem. 62 (1990) 570–573, equation (11). Value of the s-th derivative of order k at i.
double gram(int i, int m, int k, int s) {
    if (k == 0) return s == 0 ? 1.0 : 0.0;
    if (s > k) return 0.0;
    const double a = (4.0 * k - 2.0) / (k * (2.0 * m - k + 1.0));
    const double b = ((k - 1.0) * (2.0 * m + k)) / (k * (2.0 * m - k + 1.0));
    const double lower = k > 1 ? gram(i, m, k - 2, s) : 0.0;
    return a * (i * gram(i, m, k - 1, s) + (s > 0 ? s * gram(i, m, k - 1, s - 1) : 0.0)) - b * lower;
}

// (top)(top−1)…, count factors.
double fallingFactorial(int top, int count) {
    double product = 1.0;
    for (int j = 0; j < count; ++j)
        product *= top - j;
    return product;
}

double weighted(std::span<const double> values, std::size_t first, const std::vector<double>& weights) {
    double sum = 0.0;
    for (std::size_t j = 0; j < weights.size(); ++j)
        sum += weights[j] * values[first + j];
    return sum;
}

} // namespace

std::vector<double> savitzkyGolayWeights(const SavitzkyGolay& filter, int at) {
    assert(filter.points % 2 == 1 && filter.points > filter.order && filter.order >= 0 && filter.order <= mostOrder);
    assert(filter.derivative >= 0 && filter.derivative <= filter.order && at >= 0 && at < filter.points);
    const int m = filter.points / 2;
    std::vector<double> weights(static_cast<std::size_t>(filter.points), 0.0);
    for (int k = 0; k <= filter.order; ++k) {
        const double norm = (2.0 * k + 1.0) * fallingFactorial(2 * m, k) / fallingFactorial(2 * m + k + 1, k + 1);
        const double here = norm * gram(at - m, m, k, filter.derivative);
        for (int i = -m; i <= m; ++i)
            weights[static_cast<std::size_t>(i + m)] += here * gram(i, m, k, 0);
    }
    return weights;
}

std::vector<double> savitzkyGolay(std::span<const double> values, double step, const SavitzkyGolay& filter) {
    const auto points = static_cast<std::size_t>(filter.points);
    std::vector<double> out(values.size(), nan);
    if (values.size() < points) return out;
    const std::size_t half = points / 2;
    const double scale = std::pow(step, -filter.derivative);
    const std::vector<double> centre = savitzkyGolayWeights(filter, static_cast<int>(half));
    for (std::size_t i = half; i + half < values.size(); ++i)
        out[i] = scale * weighted(values, i - half, centre);
    for (std::size_t at = 0; at < half; ++at) {
        out[at] = scale * weighted(values, 0, savitzkyGolayWeights(filter, static_cast<int>(at)));
        out[values.size() - half + at] =
            scale *
            weighted(values, values.size() - points, savitzkyGolayWeights(filter, static_cast<int>(half + 1 + at)));
    }
    return out;
}

} // namespace rw
