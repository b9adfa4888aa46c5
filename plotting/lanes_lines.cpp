// The lines of the samples. Far apart: stroked. Dense: what they cover in each pixel column is filled; on screen
// straight into pixels (a polygon of the same shape costs the library ten times as much), in files as a polygon.
#include "plotting/lanes_paint.h"

#include "plotting/lanes_trace.h"

#include <QImage>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double strokeWidth = 1.5;

// One outline around what the line covers, filled: a smooth line where it is calm, a body where it is dense.
void fillTrace(QPainter& painter, const std::vector<Extent>& extents, const PixelColumns& columns,
               const LanesPicture& picture, int lane) {
    const Lane& what = picture.content.lanes[static_cast<std::size_t>(lane)];
    const Range values = picture.values[static_cast<std::size_t>(lane)];
    const auto y = [&](double raw) { return picture.geometry.pixelOf(lane, raw * what.scale + what.offset, values); };
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
        upper << QPointF(x, y(extents[i].high) - 0.5 * strokeWidth);
        lower << QPointF(x, y(extents[i].low) + 0.5 * strokeWidth);
    }
    flush();
}

// Where samples are at least eight pixels apart: the line itself, stroked.
void strokeTrace(QPainter& painter, const PixelColumns& columns, const LanesPicture& picture, int lane) {
    const Lane& what = picture.content.lanes[static_cast<std::size_t>(lane)];
    const Range values = picture.values[static_cast<std::size_t>(lane)];
    const LaneTime& time = *picture.content.time;
    const MinMaxPyramid& samples = what.column->pyramid;
    const std::size_t rows = std::min(time.index.rows(), samples.rows());
    const std::size_t first = columns.rows.front() > 0 ? columns.rows.front() - 1 : 0;
    const std::size_t last = std::min(rows, columns.rows.back() + 1);
    QPolygonF line;
    // Piece by piece: the library sorts all edges of a polyline row by row, which is dear where a line is restless.
    const auto flush = [&] {
        line = cutToWidth(line, picture.geometry.left, picture.geometry.right);
        if (line.size() == 1) line << line.front() + QPointF(0.01, 0.0);
        for (qsizetype i = 1; i < line.size(); ++i)
            painter.drawLine(line[i - 1], line[i]);
        line.clear();
    };
    for (std::size_t row = first; row < last; ++row) {
        if (std::binary_search(time.breaks.begin(), time.breaks.end(), row)) flush();
        const double value = samples[row] * what.scale + what.offset;
        if (!std::isfinite(value)) {
            flush();
            continue;
        }
        line << QPointF(picture.geometry.pixelOf(time.index[row]), picture.geometry.pixelOf(lane, value, values));
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

void fillPixels(QImage& layer, const std::vector<Extent>& extents, const LanesPicture& picture, int lane) {
    const Lane& what = picture.content.lanes[static_cast<std::size_t>(lane)];
    const LanesGeometry& g = picture.geometry;
    const Range values = picture.values[static_cast<std::size_t>(lane)];
    const double ratio = picture.devicePixelRatio;
    const int laneTop = std::clamp(static_cast<int>(std::floor((g.laneTop(lane) - g.top) * ratio)), 0, layer.height());
    const int laneEnd =
        std::clamp(static_cast<int>(std::ceil((g.laneTop(lane) + g.laneHeight - g.top) * ratio)), 0, layer.height());
    // pixelOf is linear: y = base + slope · stored value, in device pixels from the lane's top.
    const double base = (g.pixelOf(lane, what.offset, values) - g.top) * ratio - laneTop;
    const double slope = (g.pixelOf(lane, what.offset + what.scale, values) - g.top) * ratio - laneTop - base;
    const QColor color = picture.look.hue(what.hue);
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

void paintShape(QPainter& painter, const LanesPicture& picture, const PixelColumns& columns, int lane) {
    const Lane& what = picture.content.lanes[static_cast<std::size_t>(lane)];
    const LanesGeometry& g = picture.geometry;
    const QColor color = picture.look.hue(what.hue);
    painter.save();
    painter.setClipRect(QRectF(g.left, g.laneTop(lane), g.right - g.left, g.laneHeight));
    if (sparse(columns)) {
        painter.setPen(QPen(color, strokeWidth, Qt::SolidLine, Qt::SquareCap, Qt::RoundJoin));
        painter.setBrush(Qt::NoBrush);
        strokeTrace(painter, columns, picture, lane);
    } else {
        painter.setPen(Qt::NoPen);
        painter.setBrush(color);
        fillTrace(painter, traceExtents(columns, *picture.content.time, what.column->pyramid), columns, picture, lane);
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
    for (int lane = 0; lane < g.count; ++lane) {
        const Lane& what = picture.content.lanes[static_cast<std::size_t>(lane)];
        if (what.column == nullptr || columns.count() == 0) continue;
        if (pixels) {
            fillPixels(layer, traceExtents(columns, *picture.content.time, what.column->pyramid), picture, lane);
        } else {
            paintShape(painter, picture, columns, lane);
        }
    }
    if (pixels) painter.drawImage(QPointF(g.left, g.top), layer);
}

} // namespace rw
