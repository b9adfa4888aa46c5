// The lines of the samples. Far apart: stroked. Dense: what they cover in each pixel column is filled; on screen
// straight into pixels (a polygon of the same shape costs the library ten times as much), in files as a polygon.
#include "plotting/lanes_paint.h"

#include <QImage>
#include <QPainter>

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

namespace {

constexpr double strokeWidth = 1.5;

// One outline around what the line covers, filled: a smooth line where it is calm, a body where it is dense.
void fillTrace(QPainter& painter, const std::vector<Extent>& extents, const PixelColumns& columns,
               const LanePicture& lane) {
    QPolygonF upper;
    QPolygonF lower;
    const auto flush = [&] {
        if (upper.isEmpty()) return;
        if (upper.size() == 1) { // a lone column would have no area
            upper << upper.front() + QPointF(columns.width, 0.0);
            lower << lower.front() + QPointF(columns.width, 0.0);
        }
        std::reverse(lower.begin(), lower.end());
        painter.drawPolygon(upper + lower);
        upper.clear();
        lower.clear();
    };
    for (std::size_t i = 0; i < extents.size(); ++i) {
        if (extents[i].empty()) {
            flush();
            continue;
        }
        const double x = columns.left + (static_cast<double>(i) + 0.5) * columns.width;
        upper << QPointF(x, lane.pixelOfSample(extents[i].high) - 0.5 * strokeWidth);
        lower << QPointF(x, lane.pixelOfSample(extents[i].low) + 0.5 * strokeWidth);
    }
    flush();
}

// Where samples are at least eight pixels apart: the line itself, stroked.
void strokeTrace(QPainter& painter, const PixelColumns& columns, const LanePicture& lane) {
    const LaneTime& time = *lane.whole.content.time;
    const MinMaxPyramid& samples = lane.what.column->pyramid;
    const std::size_t rows = std::min(time.index.rows(), samples.rows());
    const std::size_t first = columns.rows.front() > 0 ? columns.rows.front() - 1 : 0;
    const std::size_t last = std::min(rows, columns.rows.back() + 1);
    QPolygonF line;
    // Piece by piece: the library sorts all edges of a polyline row by row, which is dear where a line is restless.
    const auto flush = [&] {
        line = cutToWidth(line, lane.g.left, lane.g.right);
        if (line.size() == 1) line << line.front() + QPointF(0.01, 0.0);
        for (qsizetype i = 1; i < line.size(); ++i)
            painter.drawLine(line[i - 1], line[i]);
        line.clear();
    };
    for (std::size_t row = first; row < last; ++row) {
        if (std::binary_search(time.breaks.begin(), time.breaks.end(), row)) flush();
        if (std::isfinite(samples[row]))
            line << QPointF(lane.g.pixelOf(time.index[row]), lane.pixelOfSample(samples[row]));
        else
            flush();
    }
    flush();
}

// Premultiplied pixel of a colour that covers this share of it.
QRgb covered(const QColor& color, double share) {
    const double alpha = std::clamp(share, 0.0, 1.0);
    return qRgba(static_cast<int>(std::lround(color.red() * alpha)),
                 static_cast<int>(std::lround(color.green() * alpha)),
                 static_cast<int>(std::lround(color.blue() * alpha)), static_cast<int>(std::lround(255.0 * alpha)));
}

// One pixel column from top to bottom (device pixels), its ends by the share that is covered.
void fillColumn(QRgb* pixels, std::ptrdiff_t stride, int height, const QColor& color, double top, double bottom) {
    top = std::clamp(top, 0.0, static_cast<double>(height));
    bottom = std::clamp(bottom, 0.0, static_cast<double>(height));
    if (bottom <= top) return;
    const int first = static_cast<int>(top);
    const int last = std::min(height - 1, static_cast<int>(bottom));
    if (first == last) {
        pixels[first * stride] = covered(color, bottom - top);
        return;
    }
    pixels[first * stride] = covered(color, first + 1.0 - top);
    const QRgb full = color.rgba();
    for (int row = first + 1; row < last; ++row)
        pixels[row * stride] = full;
    if (bottom > last) pixels[last * stride] = covered(color, bottom - last);
}

void fillPixels(QImage& layer, const std::vector<Extent>& extents, const LanePicture& lane) {
    const LanesGeometry& g = lane.g;
    const double ratio = lane.whole.devicePixelRatio;
    const int laneTop = std::clamp(static_cast<int>(std::floor((lane.top() - g.top) * ratio)), 0, layer.height());
    const int laneEnd =
        std::clamp(static_cast<int>(std::ceil((lane.top() + g.laneHeight - g.top) * ratio)), 0, layer.height());
    // pixelOf is linear: y = base + slope · stored value, in device pixels from the lane's top.
    const double base = (lane.pixelOfSample(0.0) - g.top) * ratio - laneTop;
    const double slope = (lane.pixelOfSample(1.0) - g.top) * ratio - laneTop - base;
    const QColor color = lane.look.hue(lane.what.hue);
    auto* bits = reinterpret_cast<QRgb*>(layer.scanLine(laneTop));
    const std::ptrdiff_t stride = layer.bytesPerLine() / static_cast<qsizetype>(sizeof(QRgb));
    const double half = 0.5 * strokeWidth * ratio;
    const auto count =
        std::min(static_cast<std::ptrdiff_t>(extents.size()), static_cast<std::ptrdiff_t>(layer.width()));
    const auto reach = static_cast<std::ptrdiff_t>(half);
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        double top = std::numeric_limits<double>::infinity();
        double bottom = -top;
        // A round pen: what lies in neighbouring columns reaches in by the height of the disc there.
        for (std::ptrdiff_t k = std::max<std::ptrdiff_t>(0, i - reach); k <= std::min(count - 1, i + reach); ++k) {
            const Extent& extent = extents[static_cast<std::size_t>(k)];
            if (extent.empty()) continue;
            const auto apart = static_cast<double>(k - i);
            const double height = std::sqrt(half * half - apart * apart);
            top = std::min(top, base + slope * extent.high - height);
            bottom = std::max(bottom, base + slope * extent.low + height);
        }
        if (top < bottom) fillColumn(bits + i, stride, laneEnd - laneTop, color, top, bottom);
    }
}

bool sparse(const PixelColumns& columns) { return columns.visibleRows() * 8 <= columns.count(); }

void paintShape(QPainter& painter, const PixelColumns& columns, const LanePicture& lane) {
    const QColor color = lane.look.hue(lane.what.hue);
    painter.save();
    painter.setClipRect(lane.area());
    if (sparse(columns)) {
        painter.setPen(QPen(color, strokeWidth, Qt::SolidLine, Qt::SquareCap, Qt::RoundJoin));
        painter.setBrush(Qt::NoBrush);
        strokeTrace(painter, columns, lane);
    } else {
        painter.setPen(Qt::NoPen);
        painter.setBrush(color);
        fillTrace(painter, traceExtents(columns, *lane.whole.content.time, lane.what.column->pyramid), columns, lane);
    }
    painter.restore();
}

} // namespace

QPolygonF cutToWidth(const QPolygonF& line, double left, double right) {
    QPolygonF inside;
    const auto at = [](QPointF a, QPointF b, double x) {
        return QPointF(x, a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y()));
    };
    for (qsizetype i = 0; i < line.size(); ++i) {
        const QPointF here = line[i];
        if (i > 0) {
            const QPointF before = line[i - 1];
            if (before.x() < left && here.x() > left) inside << at(before, here, left);
            if (before.x() < right && here.x() > right) inside << at(before, here, right);
        }
        if (here.x() >= left && here.x() <= right) inside << here;
    }
    return inside;
}

void paintTraces(QPainter& painter, const LanesPicture& picture) {
    const LanesGeometry& g = picture.geometry;
    const PixelColumns columns = pixelColumns(g, *picture.content.time, picture.devicePixelRatio);
    const bool pixels = !picture.vectors && !sparse(columns);
    QImage layer;
    if (pixels) {
        const double ratio = picture.devicePixelRatio;
        layer = QImage(static_cast<int>(columns.count()), static_cast<int>(std::ceil(g.count * g.laneHeight * ratio)),
                       QImage::Format_ARGB32_Premultiplied);
        layer.setDevicePixelRatio(ratio);
        layer.fill(Qt::transparent);
    }
    for (int i = 0; i < g.count; ++i) {
        const LanePicture lane(picture, i);
        if (lane.what.column == nullptr || columns.count() == 0) continue;
        if (pixels)
            fillPixels(layer, traceExtents(columns, *picture.content.time, lane.what.column->pyramid), lane);
        else
            paintShape(painter, columns, lane);
    }
    if (pixels) painter.drawImage(QPointF(g.left, g.top), layer);
}

} // namespace rw
