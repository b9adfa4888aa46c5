#include "plotting/range.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

bool usable(Range range) { return std::isfinite(range.from) && std::isfinite(range.to) && range.span() > 0.0; }

// Multiples are formed by integer times step, not by adding, so that the last tick does not drift.
std::vector<double> multiples(Range range, double step) {
    std::vector<double> result;
    const double slack = 1e-9; // of a step: a range end that is a tick keeps it in spite of rounding
    const double first = std::ceil(range.from / step - slack);
    const double last = std::floor(range.to / step + slack);
    if (last - first > 1000.0) return result;
    for (double k = first; k <= last; k += 1.0)
        result.push_back(k * step + 0.0);
    return result;
}

} // namespace

double tickStep(Range range, int maxTicks) {
    if (!usable(range)) return 1.0;
    const double rough = range.span() / std::max(1, maxTicks);
    const double decade = std::pow(10.0, std::floor(std::log10(rough)));
    // The finest step that is coarse enough; finer ones where fewer than two of its multiples fall into the range.
    constexpr std::array steps{10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1};
    std::size_t at = 0;
    while (at < 3 && steps[at + 1] * decade >= rough * (1.0 - 1e-9))
        ++at;
    while (at + 1 < steps.size() && multiples(range, steps[at] * decade).size() < 2)
        ++at;
    return steps[at] * decade;
}

std::vector<double> ticks(Range range, int maxTicks) {
    if (!usable(range)) return {};
    return multiples(range, tickStep(range, maxTicks));
}

std::vector<double> timeTicks(Range seconds, int maxTicks) {
    if (!usable(seconds)) return {};
    const double rough = seconds.span() / std::max(1, maxTicks);
    if (rough <= 10.0) return multiples(seconds, tickStep(seconds, maxTicks));
    constexpr std::array<double, 14> steps{15.0,   30.0,   60.0,   120.0,   300.0,   600.0,   900.0,
                                           1800.0, 3600.0, 7200.0, 14400.0, 21600.0, 43200.0, 86400.0};
    const auto* const fit = std::find_if(steps.begin(), steps.end(), [rough](double s) { return s >= rough; });
    return multiples(seconds, fit != steps.end() ? *fit : tickStep(seconds, maxTicks));
}

Range niceRange(Range range, int maxTicks) {
    if (!std::isfinite(range.from) || !std::isfinite(range.to)) return {0.0, 1.0};
    if (range.span() <= 0.0) return {range.from - 0.5, range.from + 0.5};
    const double step = tickStep(range, maxTicks);
    return {std::floor(range.from / step + 1e-9) * step, std::ceil(range.to / step - 1e-9) * step};
}

int decimalsOf(double step) {
    for (int decimals = 0; decimals < 12; ++decimals) {
        const double scaled = step * std::pow(10.0, decimals);
        if (std::abs(scaled - std::round(scaled)) < 1e-6 * std::max(1.0, std::abs(scaled))) return decimals;
    }
    return 12;
}

} // namespace rw
