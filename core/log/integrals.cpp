#include "core/log/integrals.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace rw {
namespace {

// ∫ min(y, 0) of the straight line from a to b over h.
double negativePart(double a, double b, double h) {
    if (a >= 0.0 && b >= 0.0) return 0.0;
    if (a <= 0.0 && b <= 0.0) return 0.5 * h * (a + b);
    const double below = std::min(a, b);
    return 0.5 * h * below * (below / (below - std::max(a, b)));
}

template<class Value>
Integral trapezoid(std::span<const double> time, double gap_s, Value value) {
    Integral sum;
    if (time.empty()) return sum;
    double before = value(0);
    for (std::size_t i = 1; i < time.size(); ++i) {
        const double now = value(i);
        const double h = time[i] - time[i - 1];
        // Written so that a NaN anywhere leaves the step out.
        if (h > 0.0 && h <= gap_s && !std::isnan(before + now)) {
            sum.net += 0.5 * h * (before + now);
            sum.negative += negativePart(before, now, h);
            sum.covered += h;
        }
        before = now;
    }
    return sum;
}

} // namespace

double medianStep(std::span<const double> time) {
    // Blocks spread over the record: enough for a median, and the cost does not grow with the log.
    constexpr std::size_t blockSteps = 1024, mostBlocks = 16;
    if (time.size() < 2) return 0.0;
    const std::size_t steps = time.size() - 1;
    const std::size_t blocks = steps <= blockSteps * mostBlocks ? 1 : mostBlocks;
    const std::size_t length = blocks == 1 ? steps : blockSteps;
    std::vector<double> positive;
    positive.reserve(blocks * length);
    for (std::size_t b = 0; b < blocks; ++b) {
        const std::size_t from = blocks == 1 ? 0 : b * (steps - length) / (blocks - 1);
        for (std::size_t i = from; i < from + length; ++i)
            if (time[i + 1] > time[i]) positive.push_back(time[i + 1] - time[i]);
    }
    if (positive.empty()) return 0.0;
    const auto middle = positive.begin() + static_cast<std::ptrdiff_t>(positive.size() / 2);
    std::nth_element(positive.begin(), middle, positive.end());
    return *middle;
}

double gapLimit(double medianStep_s) { return std::max(5.0 * medianStep_s, 0.5); }

Integral integrate(std::span<const double> time, std::span<const double> values, double gap_s) {
    assert(time.size() == values.size());
    return trapezoid(time, gap_s, [&](std::size_t i) { return values[i]; });
}

} // namespace rw
