// The cursors of lanes: lines through all, a ring on each trace, figures beside each lane's name.
#include "plotting/lanes_paint.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

bool visible(const LanesGeometry& g, double x) { return x >= g.left - 0.5 && x <= g.right + 0.5; }

QRectF chipRect(const LanesGeometry& g, double x, const QString& text) {
    const QFont type = font(Type::SmallStrong);
    const double width = figuresWidth(type, text) + 12.0;
    const double left = std::clamp(x - 0.5 * width, g.left, std::max(g.left, g.right - width));
    return {left, g.laneBottom(g.count - 1) + 5.0, width, QFontMetricsF(type).height() + 4.0};
}

// A moment's text on the time axis.
void paintChip(QPainter& painter, const Look& look, const QRectF& chip, const QString& text, bool strong) {
    painter.setFont(font(Type::SmallStrong));
    painter.setPen(strong ? QPen(Qt::NoPen) : QPen(look.soft, 1.0));
    painter.setBrush(strong ? look.ink : look.ground);
    painter.drawRoundedRect(chip, 3.0, 3.0);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(strong ? look.ground : look.ink);
    drawFigures(painter, chip, Qt::AlignHCenter | Qt::AlignVCenter, text);
}

// Both moments; where their chips would meet, the mark's moves to its own side.
void paintChips(QPainter& painter, const LanesPicture& picture, const LanesCursors& cursors, bool cursorShown) {
    const LanesGeometry& g = picture.geometry;
    QRectF chip;
    QString text;
    if (cursorShown) {
        text = momentText(picture.content, g.time, *cursors.cursor);
        if (cursors.anchor) {
            const double apart =
                passedAt(picture.content, *cursors.cursor) - passedAt(picture.content, *cursors.anchor);
            const int decimals = std::abs(apart) < 10.0 ? 3 : std::abs(apart) < 100.0 ? 2 : 1;
            text += QStringLiteral("   Δ ") + figure(apart, decimals) + QStringLiteral(" s");
        }
        chip = chipRect(g, g.pixelOf(*cursors.cursor), text);
    }
    if (cursors.anchor && visible(g, g.pixelOf(*cursors.anchor))) {
        const QString mark = momentText(picture.content, g.time, *cursors.anchor);
        QRectF place = chipRect(g, g.pixelOf(*cursors.anchor), mark);
        if (cursorShown && place.intersects(chip.adjusted(-4, 0, 4, 0))) {
            const bool before = *cursors.anchor <= *cursors.cursor;
            if (before)
                place.moveRight(chip.left() - 4.0);
            else
                place.moveLeft(chip.right() + 4.0);
        }
        paintChip(painter, picture.look, place, mark, false);
    }
    if (cursorShown) paintChip(painter, picture.look, chip, text, true);
}

void paintLine(QPainter& painter, const LanesPicture& picture, double x, Qt::PenStyle style) {
    const LanesGeometry& g = picture.geometry;
    painter.setPen(QPen(picture.look.ink, 1.0, style));
    const double at = std::round(x - 0.5) + 0.5;
    painter.drawLine(QPointF(at, g.top - 4.0), QPointF(at, g.laneBottom(g.count - 1)));
}

void paintFigures(QPainter& painter, const LanePicture& lane, const LaneReading* reading) {
    const Lane& what = lane.what;
    const LanesGeometry& g = lane.g;
    const QFont strong = font(Type::Strong);
    const double height = QFontMetricsF(strong).height();
    double y = lane.top() + 4.0 + height;
    double x = gridStep;
    const double room = g.left - 4.0 * gridStep;
    const auto unit = [&](double baselineTop) {
        setInk(painter, Type::Small, lane.look.soft);
        painter.drawText(QRectF(x, baselineTop, room, height), Qt::AlignLeft | Qt::AlignVCenter, what.unit);
    };
    if (reading != nullptr) {
        setInk(painter, strong, lane.look.hue(what.hue));
        const QString text = figure(reading->value, what.decimals);
        drawFigures(painter, QRectF(x, y, room, height), Qt::AlignLeft | Qt::AlignVCenter, text);
        x += figuresWidth(strong, text) + 4.0;
    }
    unit(y);
    if (reading == nullptr || !reading->difference || g.laneHeight < 3.0 * height + 8.0) return;
    y += height;
    setInk(painter, Type::Small, lane.look.ink);
    const double change = *reading->difference;
    const QString sign = change > 0.0 ? QStringLiteral("+") : QString();
    drawFigures(painter, QRectF(gridStep, y, room, height), Qt::AlignLeft | Qt::AlignVCenter,
                QStringLiteral("Δ ") + sign + figure(change, what.decimals));
    if (!reading->between || reading->between->empty() || g.laneHeight < 4.0 * height + 8.0) return;
    painter.setPen(lane.look.soft);
    drawFigures(painter, QRectF(gridStep, y + height, room, height), Qt::AlignLeft | Qt::AlignVCenter,
                figure(reading->between->low, what.decimals) + QStringLiteral(" … ") +
                    figure(reading->between->high, what.decimals));
}

} // namespace

void paintCursors(QPainter& painter, const LanesPicture& picture, const LanesCursors& cursors) {
    const LanesGeometry& g = picture.geometry;
    if (picture.content.lanes.empty() || picture.content.time == nullptr) return;
    painter.setRenderHint(QPainter::Antialiasing);
    if (cursors.anchor && cursors.cursor) { // what lies between them, lightly
        const double from = std::clamp(g.pixelOf(std::min(*cursors.anchor, *cursors.cursor)), g.left, g.right);
        const double to = std::clamp(g.pixelOf(std::max(*cursors.anchor, *cursors.cursor)), g.left, g.right);
        QColor fill = picture.look.accent;
        fill.setAlphaF(0.08F);
        painter.fillRect(QRectF(from, g.top - 4.0, to - from, g.laneBottom(g.count - 1) - g.top + 4.0), fill);
    }
    if (cursors.anchor && visible(g, g.pixelOf(*cursors.anchor))) {
        paintLine(painter, picture, g.pixelOf(*cursors.anchor), Qt::DashLine);
    }
    const bool shown = cursors.cursor && visible(g, g.pixelOf(*cursors.cursor));
    if (shown) {
        const double x = g.pixelOf(*cursors.cursor);
        paintLine(painter, picture, x, Qt::SolidLine);
        for (int i = 0; i < g.count; ++i) {
            const LanePicture lane(picture, i);
            const double value = cursors.readings[static_cast<std::size_t>(i)].value;
            if (!std::isfinite(value)) continue;
            const double y = lane.pixelOf(value);
            if (y < lane.top() || y > lane.bottom() + 2.0) continue;
            painter.setPen(QPen(picture.look.hue(lane.what.hue), 1.75));
            painter.setBrush(picture.look.ground);
            painter.drawEllipse(QPointF(x, y), 3.5, 3.5);
            painter.setBrush(Qt::NoBrush);
        }
    }
    paintChips(painter, picture, cursors, shown);
    for (int i = 0; i < g.count; ++i)
        paintFigures(painter, {picture, i}, shown ? &cursors.readings[static_cast<std::size_t>(i)] : nullptr);
}

} // namespace rw
