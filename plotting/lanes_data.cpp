// The data behind lanes and where it stands on the surface; no painting here.
#include "plotting/lanes.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double gutter = 152.0; // names, figures under the cursor, numbers of the axis
constexpr double rightMargin = 16.0;
constexpr double header = 44.0;      // two lines: sessions, spans
constexpr double footer = 28.0;      // times
constexpr double lanePadding = 12.0; // between a lane's top and the value at its top

// The median of up to a few thousand steps is the median of all for this purpose: a threshold at five times it.
double medianStep(std::span<const double> times) {
    constexpr std::size_t most = 4096;
    const std::size_t stride = std::max<std::size_t>(1, times.size() / most);
    std::vector<double> steps;
    for (std::size_t i = 1; i < times.size(); i += stride)
        steps.push_back(times[i] - times[i - 1]);
    if (steps.empty()) return 0.0;
    const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
    std::nth_element(steps.begin(), middle, steps.end());
    return *middle;
}

} // namespace

LaneTime::LaneTime(std::shared_ptr<const void> keep, std::span<const double> times)
    : owner(std::move(keep))
    , index(times) {
    const double gap = std::max(5.0 * medianStep(times), 0.5);
    for (std::size_t row = 1; row < times.size(); ++row) {
        if (times[row] - times[row - 1] > gap) breaks.push_back(row);
    }
}

LaneColumn::LaneColumn(std::shared_ptr<const void> keep, std::span<const double> values)
    : owner(std::move(keep))
    , pyramid(values) {}

LaneCurve::LaneCurve(std::vector<double> places, std::vector<double> values)
    : x(std::move(places))
    , y(std::move(values))
    , heights(MinMaxPyramid(y).extent(0, y.size())) {}

double sampleAt(const LanesContent& content, int lane, double t) {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const Lane& what = content.lanes[static_cast<std::size_t>(lane)];
    if (content.time == nullptr || what.column == nullptr) return none;
    const TimeIndex& times = content.time->index;
    std::size_t row = times.lowerBound(t);
    if (row >= std::min(times.rows(), what.column->pyramid.rows())) return none;
    if (times[row] > t) {
        const auto& breaks = content.time->breaks;
        if (row == 0 || std::binary_search(breaks.begin(), breaks.end(), row)) return none;
        --row;
    }
    return what.column->pyramid[row] * what.scale + what.offset;
}

double passedAt(const LanesContent& content, double t) {
    double passed = t;
    for (const LaneSegment& segment : content.segments) {
        if (t >= segment.from && segment.passed) passed = *segment.passed + (t - segment.from);
    }
    return passed;
}

Range laneRange(const Lane& lane, std::size_t first, std::size_t last) {
    Extent all;
    const auto add = [&all](double value) {
        if (std::isfinite(value)) all.add({value, value});
    };
    if (lane.column != nullptr) {
        const Extent samples = lane.column->pyramid.extent(first, last);
        if (!samples.empty()) {
            add(samples.low * lane.scale + lane.offset);
            add(samples.high * lane.scale + lane.offset);
        }
    }
    // A limit far away would press the samples flat: it is shown once they come within half their height of it.
    const Extent near = all;
    for (const LaneLimit& limit : lane.limits) {
        const double reach = near.empty() ? 0.0 : 0.5 * (near.high - near.low);
        if (near.empty() || (limit.value <= near.high + reach && limit.value >= near.low - reach)) add(limit.value);
    }
    for (const LaneBand& band : lane.bands) {
        const double reach = near.empty() ? 0.0 : 0.5 * (near.high - near.low);
        if (!near.empty() && band.below >= near.low - reach && band.below <= near.high) add(band.below);
    }
    for (const LaneTrace& trace : lane.traces)
        if (trace.curve != nullptr) all.add(trace.curve->heights);
    if (lane.fromZero) add(0.0);
    if (all.empty()) return {0.0, 1.0};
    // Noise that pokes out by a hair does not open another step: there is a margin around each lane.
    const double hair = 0.03 * (all.high - all.low);
    return niceRange({all.low + hair, all.high - hair}, 9);
}

LanesGeometry LanesGeometry::of(QSizeF size, int lanes, Range time) {
    LanesGeometry result;
    result.left = gutter;
    result.right = std::max(gutter + 1.0, size.width() - rightMargin);
    result.top = header;
    result.count = lanes;
    result.laneHeight = std::max(1.0, (size.height() - header - footer) / std::max(1, lanes));
    result.time = time;
    return result;
}

double LanesGeometry::pixelOf(double t) const { return left + (t - time.from) / time.span() * (right - left); }

double LanesGeometry::timeOf(double pixel) const { return time.from + (pixel - left) / (right - left) * time.span(); }

double LanesGeometry::laneBottom(int lane) const { return laneTop(lane) + laneHeight - 4.0; }

double LanesGeometry::pixelOf(int lane, double value, Range values) const {
    const double bottom = laneBottom(lane);
    const double roof = laneTop(lane) + std::min(lanePadding, 0.25 * laneHeight);
    return bottom - (value - values.from) / values.span() * (bottom - roof);
}

} // namespace rw
