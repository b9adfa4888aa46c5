#include "plotting/lanes_trace.h"

#include <algorithm>
#include <cmath>

namespace rw {

PixelColumns pixelColumns(const LanesGeometry& geometry, const LaneTime& time, double devicePixelRatio) {
    PixelColumns columns;
    columns.left = geometry.left;
    columns.width = 1.0 / devicePixelRatio;
    const auto count = static_cast<std::size_t>(std::ceil((geometry.right - geometry.left) * devicePixelRatio));
    columns.times.reserve(count + 1);
    columns.rows.reserve(count + 1);
    for (std::size_t i = 0; i <= count; ++i) {
        const double edge = geometry.timeOf(geometry.left + static_cast<double>(i) * columns.width);
        columns.times.push_back(edge);
        columns.rows.push_back(time.index.lowerBound(edge));
    }
    return columns;
}

namespace {

// The line's height at a moment that lies before "row" and at or after the row before it; NaN across a break.
double between(const LaneTime& time, const MinMaxPyramid& values, std::size_t row, double t) {
    const double none = std::numeric_limits<double>::quiet_NaN();
    if (row == 0 || row >= time.index.rows()) return none;
    if (std::binary_search(time.breaks.begin(), time.breaks.end(), row)) return none;
    const double from = time.index[row - 1];
    const double span = time.index[row] - from;
    if (span <= 0.0) return values[row];
    return values[row - 1] + (t - from) / span * (values[row] - values[row - 1]);
}

void addValue(Extent& extent, double value) {
    if (std::isfinite(value)) extent.add({value, value});
}

} // namespace

std::vector<Extent> traceExtents(const PixelColumns& columns, const LaneTime& time, const MinMaxPyramid& values) {
    constexpr std::size_t few = 4; // rows in a column below which the way to the neighbours shows
    std::vector<Extent> extents(columns.count());
    for (std::size_t i = 0; i < extents.size(); ++i) {
        const std::size_t first = columns.rows[i];
        const std::size_t last = columns.rows[i + 1];
        extents[i] = values.extent(first, last);
        if (last - first >= few) continue;
        addValue(extents[i], between(time, values, first, columns.times[i]));
        addValue(extents[i], between(time, values, last, columns.times[i + 1]));
    }
    for (std::size_t i = 1; i < extents.size(); ++i) {
        Extent& here = extents[i];
        const Extent& before = extents[i - 1];
        if (here.empty() || before.empty()) continue;
        const std::size_t row = columns.rows[i];
        if (std::binary_search(time.breaks.begin(), time.breaks.end(), row)) continue;
        if (here.low > before.high) here.low = before.high;
        if (here.high < before.low) here.high = before.low;
    }
    return extents;
}

} // namespace rw
