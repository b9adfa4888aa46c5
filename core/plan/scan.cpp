#include "core/plan/scan.h"

#include <cmath>
#include <numbers>

namespace rw {

ScanPoint refineMaximum(const ScanFunction& y, const ScanPoint& left, const ScanPoint& middle, const ScanPoint& right) {
    constexpr int rounds = 30; // the bracket shrinks by 0.618 each: 5e-7 of the scan's step
    constexpr double golden = 1.0 / std::numbers::phi;
    double low = left.x, high = right.x;
    ScanPoint a{high - golden * (high - low), 0.0}, b{low + golden * (high - low), 0.0};
    a.y = y(a.x);
    b.y = y(b.x);
    ScanPoint best = middle;
    for (int round = 0; round < rounds; ++round) {
        const bool keepLow = a.y >= b.y;
        if (keepLow) {
            high = b.x;
            b = a;
            a.x = high - golden * (high - low);
            a.y = y(a.x);
        } else {
            low = a.x;
            a = b;
            b.x = low + golden * (high - low);
            b.y = y(b.x);
        }
        for (const ScanPoint& point : {a, b})
            if (point.y > best.y) best = point;
    }
    return best;
}

double edgeOf(const ScanFunction& y, double level, double inside, double outside, double width) {
    while (std::abs(outside - inside) > width) {
        const double middle = 0.5 * (inside + outside);
        if (middle == inside || middle == outside) break;
        (y(middle) >= level ? inside : outside) = middle;
    }
    return inside;
}

std::vector<double> logSpaced(double low, double high, std::size_t count) {
    std::vector<double> out;
    out.reserve(count);
    const double step = std::log(high / low) / static_cast<double>(count - 1);
    for (std::size_t i = 0; i + 1 < count; ++i)
        out.push_back(low * std::exp(step * static_cast<double>(i)));
    out.push_back(high);
    return out;
}

} // namespace rw
