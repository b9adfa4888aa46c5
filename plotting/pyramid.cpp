#include "plotting/pyramid.h"

#include <algorithm>

namespace rw {

namespace {

// Written so that a comparison with NaN leaves the extent alone, and so that the compiler can use vector minima.
Extent scan(std::span<const double> values) {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    for (const double value : values) {
        low = value < low ? value : low;
        high = value > high ? value : high;
    }
    return {low, high};
}

} // namespace

MinMaxPyramid::MinMaxPyramid(std::span<const double> values)
    : values_(values) {
    std::vector<Extent> level;
    level.reserve((values.size() + blockRows - 1) / blockRows);
    for (std::size_t row = 0; row < values.size(); row += blockRows) {
        level.push_back(scan(values.subspan(row, std::min(blockRows, values.size() - row))));
    }
    while (!level.empty()) {
        levels_.push_back(std::move(level));
        level = {};
        const std::vector<Extent>& below = levels_.back();
        if (below.size() <= fanOut) break;
        for (std::size_t i = 0; i < below.size(); i += fanOut) {
            Extent sum;
            for (std::size_t k = i; k < std::min(i + fanOut, below.size()); ++k)
                sum.add(below[k]);
            level.push_back(sum);
        }
    }
}

Extent MinMaxPyramid::extent(std::size_t first, std::size_t last) const {
    last = std::min(last, values_.size());
    if (first >= last) return {};
    const std::size_t firstBlock = (first + blockRows - 1) / blockRows;
    const std::size_t lastBlock = last / blockRows;
    if (firstBlock >= lastBlock) return scan(values_.subspan(first, last - first));

    Extent sum = scan(values_.subspan(first, firstBlock * blockRows - first));
    sum.add(scan(values_.subspan(lastBlock * blockRows, last - lastBlock * blockRows)));
    std::size_t from = firstBlock;
    std::size_t to = lastBlock;
    // On each level the ragged ends are added one by one, whole groups are left to the level above.
    for (std::size_t depth = 0; from < to; ++depth) {
        const std::vector<Extent>& level = levels_[depth];
        const bool top = depth + 1 == levels_.size();
        while (from < to && (top || from % fanOut != 0))
            sum.add(level[from++]);
        while (from < to && to % fanOut != 0)
            sum.add(level[--to]);
        from /= fanOut;
        to /= fanOut;
    }
    return sum;
}

TimeIndex::TimeIndex(std::span<const double> times)
    : times_(times) {
    coarse_.reserve(times.size() / stride + 1);
    for (std::size_t row = 0; row < times.size(); row += stride)
        coarse_.push_back(times[row]);
}

std::size_t TimeIndex::lowerBound(double time) const {
    const auto block = std::lower_bound(coarse_.begin(), coarse_.end(), time) - coarse_.begin();
    // The first row of this block is at or after the moment, so the answer is in the block before or right there.
    const std::size_t from = block == 0 ? 0 : (static_cast<std::size_t>(block) - 1) * stride;
    const std::size_t to = std::min(times_.size(), static_cast<std::size_t>(block) * stride + 1);
    const auto begin = times_.begin();
    return static_cast<std::size_t>(
        std::lower_bound(begin + static_cast<std::ptrdiff_t>(from), begin + static_cast<std::ptrdiff_t>(to), time) -
        begin);
}

} // namespace rw
