#include "core/plan/scan.h"

#include <cmath>

namespace rw {

ScanPoint refineMaximum(const ScanFunction& y, const ScanPoint& left, const ScanPoint& middle, const ScanPoint& right) {
    constexpr double width = 5.5e-7; // of the bracket: thirty rounds, which shrink it by 0.618 each
    ScanPoint best = middle;
    goldenSection(left.x, right.x, width * (right.x - left.x), [&](double x) {
        const ScanPoint here{x, y(x)};
        if (here.y > best.y) best = here;
        return here.y;
    });
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
