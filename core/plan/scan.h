// Searching a function of one variable that may have several humps and jumps: a dense scan, then brackets.
#pragma once

#include <cstddef>
#include <functional>
#include <numbers>
#include <vector>

namespace rw {

struct ScanPoint {
    double x = 0.0;
    double y = 0.0; // -infinity where there is no value
};

using ScanFunction = std::function<double(double)>;

// Golden-section search for the largest y between two x, until they are no more than `width` apart. y sees every x that
// is looked at, and may keep what is best.
template<class Y>
void goldenSection(double low, double high, double width, Y&& y) {
    constexpr double golden = 1.0 / std::numbers::phi;
    double left = high - golden * (high - low), right = low + golden * (high - low);
    double atLeft = y(left), atRight = y(right);
    while (high - low > width) {
        if (atLeft >= atRight) {
            high = right, right = left, atRight = atLeft;
            atLeft = y(left = high - golden * (high - low));
        } else {
            low = left, left = right, atLeft = atRight;
            atRight = y(right = low + golden * (high - low));
        }
    }
}
// By it, the largest y within three neighbouring points of a scan; never worse than the middle one.
[[nodiscard]] ScanPoint refineMaximum(const ScanFunction& y, const ScanPoint& left, const ScanPoint& middle,
                                      const ScanPoint& right);
// Between `inside` (y ≥ level) and `outside` (y < level): the last x with y ≥ level, to `width`; y ≥ level holds there.
[[nodiscard]] double edgeOf(const ScanFunction& y, double level, double inside, double outside, double width);
// Points rising in x, evenly spaced in log x, both ends included exactly.
[[nodiscard]] std::vector<double> logSpaced(double low, double high, std::size_t count);

} // namespace rw
