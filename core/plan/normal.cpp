#include "core/plan/normal.h"

#include <boost/math/special_functions/erf.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace rw {

namespace {

double upperTail(double z) { return 0.5 * std::erfc(z / std::numbers::sqrt2); }
double lowerTail(double z) { return upperTail(-z); }

// In double throughout: Boost would otherwise compute in long double, at several times the cost.
double inverseComplement(double twiceTail) {
    using Plain = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
    return boost::math::erfc_inv(twiceTail, Plain());
}

} // namespace

double TruncatedNormal::quantile(double share) const {
    const double below = lowerTail((low - mean) / deviation);
    const double above = upperTail((high - mean) / deviation);
    // Probability from the nearer end, so that nothing cancels in the tails.
    const double fromLow = below + share * (1.0 - below - above);
    const double fromHigh = above + (1.0 - share) * (1.0 - below - above);
    constexpr double least = std::numeric_limits<double>::min();
    const double z = fromLow < 0.5 ? -std::numbers::sqrt2 * inverseComplement(2.0 * std::max(fromLow, least))
                                   : std::numbers::sqrt2 * inverseComplement(2.0 * std::max(fromHigh, least));
    return std::clamp(mean + deviation * z, low, high);
}

double normalShare(double score) {
    constexpr double belowOne = 1.0 - 0x1p-53;
    return std::clamp(lowerTail(score), std::numeric_limits<double>::min(), belowOne);
}

double normalScore(double share) {
    // From the nearer end, so that nothing cancels in the tails.
    return share < 0.5 ? -std::numbers::sqrt2 * inverseComplement(2.0 * share)
                       : std::numbers::sqrt2 * inverseComplement(2.0 * (1.0 - share));
}

double SeededUniform::inUnit() { return (static_cast<double>(engine_() >> 11U) + 0.5) * 0x1p-53; }

std::size_t SeededUniform::below(std::size_t bound) {
    const std::uint64_t range = bound;
    const std::uint64_t rest = (std::numeric_limits<std::uint64_t>::max() % range + 1) % range;
    for (;;) {
        const std::uint64_t draw = engine_();
        if (draw <= std::numeric_limits<std::uint64_t>::max() - rest) return static_cast<std::size_t>(draw % range);
    }
}

std::vector<double> latinColumn(std::size_t runs, SeededUniform& random) {
    std::vector<std::size_t> strata(runs);
    for (std::size_t i = 0; i < runs; ++i)
        strata[i] = i;
    for (std::size_t i = runs; i > 1; --i)
        std::swap(strata[i - 1], strata[random.below(i)]);
    std::vector<double> out(runs);
    constexpr double belowOne = 1.0 - 0x1p-53; // the sum may round up to the stratum's end
    for (std::size_t i = 0; i < runs; ++i)
        out[i] = std::min((static_cast<double>(strata[i]) + random.inUnit()) / static_cast<double>(runs), belowOne);
    return out;
}

} // namespace rw
