#include "plotting/map_item.h"

#include <algorithm>

namespace rw {

QPointF MapItem::pixel(double x, double y) const {
    return {mParentPlot->xAxis->coordToPixel(x), mParentPlot->yAxis->coordToPixel(logOf(y))};
}

void MapItem::draw(QCPPainter* painter) {
    const QRectF inside = QRectF(mParentPlot->axisRect()->rect());
    if (content_.xs.empty()) {
        if (!under_) say(*painter, inside.center(), content_.empty, Type::Body, look_.soft);
        return;
    }
    painter->save();
    painter->setClipRect(inside);
    if (under_)
        drawHatch(*painter, inside, look_.rule);
    else
        drawOver(*painter);
    painter->restore();
    if (!under_) drawTitles(*painter, inside);
}

void MapItem::drawOver(QPainter& painter) const {
    painter.setRenderHint(QPainter::Antialiasing);
    drawBorders(painter);
    painter.setPen(QPen(look_.ink, 2.25, Qt::SolidLine, Qt::RoundCap));
    for (const auto& [a, b] : contourSegments(content_.xs, content_.ys, content_.z, 0.0))
        painter.drawLine(pixel(a.x(), a.y()), pixel(b.x(), b.y()));
    std::vector<QRectF> taken;
    for (const MapPoint& point : content_.points)
        drawPoint(painter, point, taken);
    drawNames(painter, taken);
    if (!chosen_) return;
    const auto column = static_cast<std::size_t>(chosen_->first), row = static_cast<std::size_t>(chosen_->second);
    painter.setPen(QPen(look_.accent, 2.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(pixel(content_.xs[column], content_.ys[row]), 8.0, 8.0);
}

// Half-way between neighbours of different regions, or of one that is outside.
void MapItem::drawBorders(QPainter& painter) const {
    painter.setPen(QPen(look_.ink, 1.0, Qt::DotLine));
    const auto half = [](const std::vector<double>& v, std::size_t i, bool log) {
        return log ? std::sqrt(v[i] * v[i + 1]) : 0.5 * (v[i] + v[i + 1]);
    };
    const auto edge = [&](const std::vector<double>& v, std::size_t i, bool upper, bool log) {
        if (upper) return i + 1 < v.size() ? half(v, i, log) : v[i];
        return i > 0 ? half(v, i - 1, log) : v[i];
    };
    const auto differ = [&](std::size_t i, std::size_t j, std::size_t k, std::size_t l) {
        return content_.z[i][j] >= 0.0 && content_.z[k][l] >= 0.0 && // NaN: outside; over a limit they only confuse
               content_.region[i][j] != content_.region[k][l];
    };
    for (std::size_t i = 0; i < content_.xs.size(); ++i)
        for (std::size_t j = 0; j < content_.ys.size(); ++j) {
            if (i + 1 < content_.xs.size() && differ(i, j, i + 1, j)) {
                const double x = half(content_.xs, i, false);
                painter.drawLine(pixel(x, edge(content_.ys, j, false, true)),
                                 pixel(x, edge(content_.ys, j, true, true)));
            }
            if (j + 1 < content_.ys.size() && differ(i, j, i, j + 1)) {
                const double y = half(content_.ys, j, true);
                painter.drawLine(pixel(edge(content_.xs, i, false, false), y),
                                 pixel(edge(content_.xs, i, true, false), y));
            }
        }
}

// In the middle of the column with the longest run of the region, the middle one of several.
std::optional<QPointF> MapItem::middleOf(int wanted) const {
    std::size_t best = 0, column = 0, from = 0;
    const auto off = [&](std::size_t c) {
        return std::abs(static_cast<double>(c) - 0.5 * static_cast<double>(content_.xs.size() - 1));
    };
    for (std::size_t i = 0; i < content_.xs.size(); ++i) {
        std::size_t run = 0;
        for (std::size_t j = 0; j < content_.ys.size(); ++j) {
            const bool outside = !std::isfinite(content_.z[i][j]);
            const bool here = wanted < 0 ? outside : !outside && content_.region[i][j] == wanted;
            run = here ? run + 1 : 0;
            if (run > best || (run == best && run > 0 && off(i) < off(column)))
                best = run, column = i, from = j + 1 - run;
        }
    }
    if (best < 2) return std::nullopt;
    return pixel(content_.xs[column], std::sqrt(content_.ys[from] * content_.ys[from + best - 1]));
}

void MapItem::drawNames(QPainter& painter, std::vector<QRectF>& taken) const {
    const QFontMetricsF metrics(font(Type::SmallStrong));
    const QRectF inside(mParentPlot->axisRect()->rect());
    const auto write = [&](int region, const QString& words) {
        const auto at = middleOf(region);
        if (!at) return;
        QRectF box(0.0, 0.0, metrics.horizontalAdvance(words) + 6.0, metrics.height());
        box.moveCenter(*at);
        box.moveLeft(std::clamp(box.left(), inside.left() + 4.0,
                                std::max(inside.left() + 4.0, inside.right() - box.width() - 4.0)));
        for (const double shift : {0.0, 2.0, -2.0, 4.0, -4.0}) {
            const QRectF there = box.translated(0.0, shift * 0.5 * metrics.height());
            const auto on = [&](const QRectF& other) { return other.intersects(there); };
            if (std::any_of(taken.begin(), taken.end(), on)) continue;
            box = there;
            break;
        }
        if (std::any_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); })) return;
        taken.push_back(box);
        say(painter, box.center(), words, Type::SmallStrong, look_.ink);
    };
    for (std::size_t k = 0; k < content_.names.size(); ++k)
        write(static_cast<int>(k), content_.names[k]);
    write(-1, content_.outside);
}

void MapItem::say(QPainter& painter, QPointF centre, const QString& words, Type type, const QColor& color) const {
    painter.setFont(font(type));
    painter.setPen(color);
    QRectF box(0.0, 0.0, 4000.0, 100.0);
    box.moveCenter(centre);
    painter.drawText(box, Qt::AlignCenter, words);
}
// Its label beside it, or a line higher or lower where another is written; none where there is no room at all.
void MapItem::drawPoint(QPainter& painter, const MapPoint& point, std::vector<QRectF>& taken) const {
    const QPointF at = pixel(point.x, point.y);
    constexpr double radius = 4.5;
    painter.setPen(QPen(point.kind == MapPoint::Kind::Ring ? look_.ink : look_.ground, 1.5));
    painter.setBrush(point.kind == MapPoint::Kind::Ring      ? look_.ground
                     : point.kind == MapPoint::Kind::Diamond ? look_.accent
                                                             : look_.ink);
    if (point.kind == MapPoint::Kind::Diamond) {
        const double r = 1.6 * radius;
        painter.drawPolygon(
            QPolygonF{{at + QPointF(0, -r), at + QPointF(r, 0), at + QPointF(0, r), at + QPointF(-r, 0)}});
    } else {
        painter.drawEllipse(at, radius, radius);
    }
    painter.setFont(font(point.kind == MapPoint::Kind::Disc ? Type::Small : Type::SmallStrong));
    painter.setPen(look_.ink);
    const double width = QFontMetricsF(painter.font()).horizontalAdvance(point.label);
    const QRectF inside(mParentPlot->axisRect()->rect());
    const bool left = at.x() + 2.0 * radius + width > inside.right();
    const double height = QFontMetricsF(painter.font()).height();
    for (const double shift : {0.0, -height, height, -2.0 * height, 2.0 * height}) {
        const QRectF box(left ? at.x() - 2.0 * radius - width : at.x() + 2.0 * radius, at.y() - 0.5 * height + shift,
                         width + 2.0, height);
        if (std::any_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); }))
            continue;
        taken.push_back(box);
        painter.drawText(box, Qt::AlignLeft | Qt::AlignVCenter, point.label);
        return;
    }
}
void MapItem::drawTitles(QPainter& painter, const QRectF& inside) const {
    const auto title = [](const ChartAxis& axis) {
        return axis.unit.isEmpty() ? axis.title : axis.title + QStringLiteral(", ") + axis.unit;
    };
    painter.setFont(font(Type::SmallStrong));
    painter.setPen(look_.soft);
    const double height = QFontMetricsF(painter.font()).height();
    painter.drawText(QRectF(2.0, inside.top() - height - 8.0, inside.right(), height), Qt::AlignLeft,
                     title(content_.y));
    painter.drawText(QRectF(0.0, inside.bottom() + height + 10.0, inside.right(), height), Qt::AlignRight,
                     title(content_.x));
}

} // namespace rw
