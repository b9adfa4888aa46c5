// What lies over the lines of a chart: titles, limits, markers and the lines' own names.
#include "plotting/chart_items.h"

#include <algorithm>
#include <cmath>

namespace rw {

void ScenePainter::drawOverlay(QCPPainter& painter) {
    painter.setAntialiasing(true);
    scene_.crowding = Crowding(inside());
    for (const QRectF& label : scene_.regionLabels)
        scene_.crowding.addRect(label);
    if (!scene_.content.empty.isEmpty() && scene_.content.series.empty()) {
        setInk(painter, Type::Body, scene_.look.soft);
        painter.drawText(QRectF(plot_.viewport()).adjusted(16, 16, -16, -16), Qt::AlignCenter | Qt::TextWordWrap,
                         scene_.content.empty);
        return;
    }
    drawTitles(painter);
    const std::vector<QPolygonF> lines = takeLines();
    drawLimits(painter);
    drawMarkers(painter);
    drawLabels(painter, lines);
}

void ScenePainter::drawTitles(QCPPainter& painter) {
    const QRectF area = inside();
    const QFont strong = font(Type::SmallStrong);
    const QFont small = font(Type::Small);
    const auto draw = [&](const ChartAxis& axis, QPointF at, bool fromRight) {
        if (axis.title.isEmpty()) return;
        const QString title = axis.unit.isEmpty() ? axis.title : axis.title + QStringLiteral(", ");
        const double titleWidth = QFontMetricsF(strong).horizontalAdvance(title);
        const double unitWidth = QFontMetricsF(small).horizontalAdvance(axis.unit);
        double left = fromRight ? at.x() - titleWidth - unitWidth : at.x();
        const double height = QFontMetricsF(strong).height();
        setInk(painter, strong,
               scene_.focused && !scene_.printing && !fromRight ? scene_.look.accent : scene_.look.ink);
        painter.drawText(QRectF(left, at.y(), titleWidth + 1.0, height), Qt::AlignLeft | Qt::TextDontClip, title);
        setInk(painter, small, scene_.look.soft);
        left += titleWidth;
        painter.drawText(QRectF(left, at.y(), unitWidth + 1.0, height), Qt::AlignLeft | Qt::TextDontClip, axis.unit);
    };
    const double height = QFontMetricsF(strong).height();
    draw(scene_.content.y, {2.0, area.top() - height - 1.25 * gridStep}, false);
    draw(scene_.content.x, {area.right(), plot_.viewport().bottom() + 1.0 - height - 1.0}, true);
}

// Above or below its line, as far right as it covers nothing.
QRectF ScenePainter::placeOfLimit(const Crowding& taken, double y, QSizeF text) const {
    const QRectF area = inside();
    constexpr double step = 12.0;
    QRectF best;
    double least = std::numeric_limits<double>::infinity();
    const double rightmost = area.right() - text.width() - 3.0;
    for (int i = 0; rightmost - i * step >= area.left(); ++i) {
        const double left = rightmost - i * step;
        for (const double top : {y - text.height() - 1.0, y + 1.0}) {
            const QRectF place(QPointF(left, top), text);
            const double cost = taken.cost(place) + (area.right() - left) / area.width() + (top > y ? 0.2 : 0.0);
            if (cost >= least) continue;
            least = cost;
            best = place;
        }
    }
    return best;
}

void ScenePainter::drawLimits(QCPPainter& painter) {
    const QRectF area = inside();
    painter.setFont(font(Type::Small));
    const QFontMetricsF metrics(painter.font());
    for (const ChartLimit& limit : scene_.content.limits) {
        const double y = std::round(pixel(0.0, limit.value).y());
        if (y < area.top() || y > area.bottom() + 1.0) continue;
        const QColor color = limit.broken ? scene_.look.bad : scene_.look.soft;
        QPen pen(color, limit.broken ? 1.5 : 1.0);
        pen.setDashPattern({2.0, 4.0});
        painter.setPen(pen);
        painter.drawLine(QLineF(area.left(), y, area.right(), y));
        if (limit.label.isEmpty()) continue;
        Crowding taken = scene_.crowding; // no name lies over another limit's line
        for (const ChartLimit& other : scene_.content.limits)
            if (const double at = pixel(0.0, other.value).y(); other.value != limit.value)
                taken.addLine({QPointF(area.left(), at), QPointF(area.right(), at)});
        const QRectF place = placeOfLimit(taken, y, {metrics.horizontalAdvance(limit.label) + 1.0, metrics.height()});
        if (scene_.crowding.cost(place) > 0.0) drawPlate(painter, place);
        painter.drawText(place, Qt::AlignCenter | Qt::TextDontClip, limit.label);
        scene_.crowding.addRect(place);
    }
}

void ScenePainter::drawMarkers(QCPPainter& painter) {
    const QRectF area = inside();
    painter.setFont(font(Type::SmallStrong));
    const QFontMetricsF metrics(painter.font());
    for (const ChartMarker& marker : scene_.content.markers) {
        const QPointF at = pixel(marker.x, marker.y);
        if (!area.contains(at)) continue;
        painter.setPen(QPen(scene_.look.ink, 1.75));
        painter.setBrush(scene_.look.ground);
        painter.drawEllipse(at, 4.5, 4.5);
        painter.setBrush(Qt::NoBrush);
        if (marker.label.isEmpty()) continue;
        const double width = metrics.horizontalAdvance(marker.label);
        const bool right = at.x() + 4.0 + width < area.right();
        // Above the ring: lines that meet in it run off to the sides.
        const double above = at.y() - metrics.height() - 6.0;
        const double top = above >= area.top() ? above : at.y() - 0.5 * metrics.height();
        const QRectF place(right ? at.x() + 4.0 : at.x() - 4.0 - width, top, width + 1.0, metrics.height());
        painter.setPen(scene_.look.ink);
        painter.drawText(place, Qt::AlignVCenter | Qt::AlignLeft | Qt::TextDontClip, marker.label);
        scene_.crowding.addRect(place);
        scene_.crowding.addRect(QRectF(at - QPointF(6, 6), QSizeF(12, 12)));
    }
}

QPolygonF ScenePainter::linePixels(const std::vector<double>& x, const std::vector<double>& y) const {
    constexpr std::size_t most = 4000; // enough to know what is taken
    const std::size_t count = std::min(x.size(), y.size());
    const std::size_t stride = 1 + count / most;
    QPolygonF line;
    for (std::size_t i = 0; i < count; i += stride) {
        const QPointF at = pixel(x[i], y[i]);
        const bool near =
            !line.isEmpty() && std::abs(at.x() - line.back().x()) < 2.0 && std::abs(at.y() - line.back().y()) < 2.0;
        if (!near) line << at;
    }
    if (count > 0) line << pixel(x[count - 1], y[count - 1]);
    return line;
}

// No free place: the letters stay readable over the lines.
void ScenePainter::drawPlate(QCPPainter& painter, const QRectF& place) const {
    QColor halo = scene_.look.ground;
    halo.setAlphaF(0.8F);
    painter.fillRect(place, halo);
}

// What the series cover.
std::vector<QPolygonF> ScenePainter::takeLines() {
    std::vector<QPolygonF> lines;
    for (const ChartSeries& series : scene_.content.series) {
        lines.push_back(linePixels(series.x, series.y));
        if (series.line != LineKind::None) {
            scene_.crowding.addLine(lines.back());
        } else {
            for (const QPointF at : lines.back())
                scene_.crowding.addRect(QRectF(at - QPointF(5, 5), QSizeF(10, 10)));
        }
    }
    for (const ChartSeries& series : scene_.content.series) {
        for (std::size_t i = 0; i < std::min(series.uncertainty.size(), series.y.size()); ++i) {
            const QPointF high = pixel(series.x[i], series.y[i] + series.uncertainty[i]);
            const QPointF low = pixel(series.x[i], series.y[i] - series.uncertainty[i]);
            scene_.crowding.addRect(QRectF(high - QPointF(4, 0), low + QPointF(4, 0)));
        }
    }
    return lines;
}

void ScenePainter::drawLabels(QCPPainter& painter, const std::vector<QPolygonF>& lines) {
    painter.setFont(font(Type::SmallStrong));
    const QFontMetricsF metrics(painter.font());
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const ChartSeries& series = scene_.content.series[i];
        if (series.name.isEmpty()) continue;
        const QSizeF size(metrics.horizontalAdvance(series.name) + 2.0, metrics.height());
        std::optional<double> at;
        if (series.labelAt) at = pixel(*series.labelAt, 0.0).x();
        const auto placed = placeBeside(scene_.crowding, lines[i], size, at);
        constexpr double crowded = 6.0;
        if (!placed || (series.nameIfRoom && placed->cost > crowded)) continue;
        if (placed->cost >= 3.0) drawPlate(painter, placed->rect);
        painter.setPen(scene_.color(series));
        painter.drawText(placed->rect, Qt::AlignCenter | Qt::TextDontClip, series.name);
        scene_.crowding.addRect(placed->rect);
    }
}

} // namespace rw
