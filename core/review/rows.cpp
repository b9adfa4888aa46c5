#include "core/review/rows.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace rw::review {

double medianOf(std::vector<double>& values) {
    if (values.empty()) return nan;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1) return *middle;
    return (*middle + *std::max_element(values.begin(), middle)) / 2.0;
}

double noiseOfChanges(const std::vector<double>& values) {
    std::vector<double> changes;
    for (std::size_t i = 2; i < values.size(); ++i)
        if (const double change = values[i] - 2.0 * values[i - 1] + values[i - 2]; std::isfinite(change))
            changes.push_back(std::abs(change));
    constexpr double perDeviation = 0.6745 * 2.449489742783178; // median of |N(0, 6)|
    return changes.empty() ? 0.0 : medianOf(changes) / perDeviation;
}

double medianBetween(std::vector<double>& between, const AroundMedian& a) {
    const std::size_t count = a.below + a.atLow + between.size() + a.atHigh + a.above;
    const auto ranked = [&](std::size_t rank) {
        if (rank < a.below || rank >= count - a.above) return nan;
        rank -= a.below;
        if (rank < a.atLow) return a.low;
        rank -= a.atLow;
        if (rank >= between.size()) return a.high;
        const auto place = between.begin() + static_cast<std::ptrdiff_t>(rank);
        std::nth_element(between.begin(), place, between.end());
        return *place;
    };
    if (count == 0) return nan;
    const double upper = ranked(count / 2);
    return count % 2 == 1 ? upper : (ranked(count / 2 - 1) + upper) / 2.0;
}

TopQuantile::TopQuantile(std::size_t most, double quantile)
    : keep_(static_cast<std::size_t>(std::ceil(static_cast<double>(most) * (1.0 - quantile))) + 2)
    , quantile_(quantile) {
    kept_.reserve(2 * keep_);
}

void TopQuantile::shrink() {
    const auto cut = kept_.begin() + static_cast<std::ptrdiff_t>(keep_ - 1);
    std::nth_element(kept_.begin(), cut, kept_.end(), std::greater<>());
    floor_ = *cut;
    kept_.resize(keep_);
}

double TopQuantile::value() {
    if (seen_ == 0) return nan;
    const double rank = static_cast<double>(seen_ - 1) * quantile_;
    const auto below = static_cast<std::size_t>(rank);
    const double share = rank - static_cast<double>(below);
    const std::size_t fromTop = seen_ - 1 - below; // of the lower of the two order statistics
    std::ranges::sort(kept_, std::greater<>());
    const double lower = kept_[fromTop];
    return fromTop == 0 ? lower : lower + share * (kept_[fromTop - 1] - lower);
}

void SlidingRange::push(std::size_t row) {
    const double value = values_[row];
    if (std::isnan(value)) return;
    while (lows_.size() > lowHead_ && values_[lows_.back()] >= value)
        lows_.pop_back();
    lows_.push_back(row);
    while (highs_.size() > highHead_ && values_[highs_.back()] <= value)
        highs_.pop_back();
    highs_.push_back(row);
}

void SlidingRange::dropBefore(std::size_t row) {
    while (lowHead_ < lows_.size() && lows_[lowHead_] < row)
        ++lowHead_;
    while (highHead_ < highs_.size() && highs_[highHead_] < row)
        ++highHead_;
}

} // namespace rw::review
