#include "plotting/lanes_room.h"

#include <algorithm>
#include <cmath>

namespace rw {

constexpr double wordColumn = 8.0; // pixels
constexpr double air = 1.5;        // between a line's middle and words

PixelColumns wordColumns(const LanesPicture& picture) {
    return pixelColumns(picture.geometry, *picture.content.time, 1.0 / wordColumn);
}

LaneRoom::LaneRoom(const LanePicture& lane, const PixelColumns& columns)
    : lane_(QPointF(lane.g.left, lane.top()), QPointF(lane.g.right, lane.bottom()))
    , columnWidth_(columns.width)
    , covered_(columns.count()) {
    if (lane.what.column != nullptr) {
        const auto extents = traceExtents(columns, *lane.whole.content.time, lane.what.column->pyramid);
        for (std::size_t i = 0; i < extents.size(); ++i) {
            if (extents[i].empty()) continue;
            const double one = lane.pixelOfSample(extents[i].high), other = lane.pixelOfSample(extents[i].low);
            cover(i, std::min(one, other), std::max(one, other));
        }
    }
    for (const LaneTrace& trace : lane.what.traces)
        if (trace.curve != nullptr) addCurve(trace, lane);
    for (const LaneLimit& limit : lane.what.limits)
        lines_.push_back(lane.pixelOf(limit.value));
}

void LaneRoom::addCurve(const LaneTrace& trace, const LanePicture& lane) {
    const LanesGeometry& g = lane.g;
    const LaneCurve& curve = *trace.curve;
    for (std::size_t i = 1; i < std::min(curve.x.size(), curve.y.size()); ++i) {
        if (!std::isfinite(curve.y[i - 1]) || !std::isfinite(curve.y[i])) continue;
        const double from = (g.pixelOf(trace.at + curve.x[i - 1]) - g.left) / columnWidth_;
        const double to = (g.pixelOf(trace.at + curve.x[i]) - g.left) / columnWidth_;
        const double a = lane.pixelOf(curve.y[i - 1]), b = lane.pixelOf(curve.y[i]);
        if (to < 0.0 || from >= static_cast<double>(covered_.size())) continue;
        const auto first = static_cast<std::size_t>(std::max(0.0, from));
        const auto last = static_cast<std::size_t>(std::min(to, static_cast<double>(covered_.size()) - 1.0));
        for (std::size_t column = first; column <= last; ++column)
            cover(column, std::min(a, b), std::max(a, b));
    }
}

void LaneRoom::take(const QRectF& place) { taken_.push_back(place); }

bool LaneRoom::isUnwritten(const QRectF& place) const {
    const bool within = place.top() >= lane_.top() && place.bottom() <= lane_.bottom() &&
                        place.left() >= lane_.left() && place.right() <= lane_.right();
    return within && std::ranges::none_of(taken_, [&](const QRectF& other) { return other.intersects(place); });
}

bool LaneRoom::isFree(const QRectF& place) const {
    if (!isUnwritten(place)) return false;
    const auto crosses = [&](double top, double bottom) {
        return bottom > place.top() - air && top < place.bottom() + air;
    };
    if (std::ranges::any_of(lines_, [&](double y) { return y > place.top() && y < place.bottom(); })) return false;
    const auto first = static_cast<std::size_t>((place.left() - lane_.left()) / columnWidth_);
    const auto last = static_cast<std::size_t>((place.right() - lane_.left()) / columnWidth_);
    for (std::size_t column = first; column <= last && column < covered_.size(); ++column)
        if (!covered_[column].empty() && crosses(covered_[column].low, covered_[column].high)) return false;
    return true;
}

std::optional<QRectF> LaneRoom::beside(double y, QSizeF text, double left, double right, bool onLines) const {
    for (int i = 0; right - text.width() - i * columnWidth_ >= left; ++i)
        for (const double top : {y - text.height(), y + 1.0}) {
            const QRectF place(QPointF(right - text.width() - i * columnWidth_, top), text);
            if (onLines ? isUnwritten(place) : isFree(place)) return place;
        }
    return std::nullopt;
}

} // namespace rw
