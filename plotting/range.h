// A closed stretch of an axis, and the round numbers that label one. No Qt here.
#pragma once

#include <vector>

namespace rw {

struct Range {
    double from = 0.0;
    double to = 1.0;
    [[nodiscard]] double span() const { return to - from; }
    [[nodiscard]] double middle() const { return from + 0.5 * (to - from); }
    [[nodiscard]] bool contains(double x) const { return x >= from && x <= to; }
    [[nodiscard]] bool operator==(const Range&) const = default;
};

// Step of 1, 2 or 5 times a power of ten, the smallest that puts at most maxTicks + 1 ticks on the range; a finer one
// where that would be fewer than two. > 0.
[[nodiscard]] double tickStep(Range range, int maxTicks);

// Multiples of that step inside the range, ascending; empty if the range is empty or not finite.
[[nodiscard]] std::vector<double> ticks(Range range, int maxTicks);

// Ticks for seconds: steps of 1, 2, 5 × 10^n below 10 s, then 10, 15, 30 s, 1, 2, 5, 10, 15, 30 min, hours.
[[nodiscard]] std::vector<double> timeTicks(Range seconds, int maxTicks);

// The range widened outwards to whole tick steps; a range without extent gets half a unit each way.
[[nodiscard]] Range niceRange(Range range, int maxTicks);

// Decimals needed to write multiples of the step without rounding: 0.25 → 2, 5 → 0.
[[nodiscard]] int decimalsOf(double step);

} // namespace rw
