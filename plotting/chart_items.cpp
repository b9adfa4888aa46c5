#include "plotting/chart_items.h"

#include "plotting/chart_read.h"

#include <QDate>
#include <QDateTime>

#include <cmath>

namespace rw {

QColor ChartScene::color(const std::variant<Hue, int>& hue) const {
    return std::holds_alternative<Hue>(hue) ? look.hue(std::get<Hue>(hue)) : look.series(std::get<int>(hue));
}

QStringList ChartScene::readoutAt(double x) const { return readout ? readout(x) : defaultReadout(content, x); }

void ScenePainter::drawRegions(QCPPainter& painter) {
    const QRectF area = inside();
    scene_.regionLabels.clear();
    for (const ChartRegion& region : scene_.content.regions) {
        const double from = std::max(area.left(), pixel(region.from, 0.0).x());
        const double to = std::min(area.right(), pixel(region.to, 0.0).x());
        if (!(to > from)) continue;
        const QRectF rect(from, area.top(), to - from, area.height());
        QColor fill = region.kind == ChartRegion::Kind::Wash ? scene_.look.accent : scene_.look.warn;
        if (region.kind == ChartRegion::Kind::Hatch) {
            fill.setAlphaF(0.45F);
            drawHatch(painter, rect, fill);
        } else {
            fill.setAlphaF(0.11F);
            painter.fillRect(rect, fill);
        }
        if (region.label.isEmpty()) continue;
        setInk(painter, Type::Small, scene_.look.soft);
        const QFontMetricsF metrics(painter.font());
        const double width = metrics.horizontalAdvance(region.label);
        const double left =
            std::clamp(0.5 * (from + to - width), area.left(), std::max(area.left(), area.right() - width));
        const QRectF place(left, area.top() + 2.0, width + 1.0, metrics.height());
        painter.drawText(place, Qt::AlignCenter | Qt::TextDontClip, region.label);
        scene_.regionLabels.push_back(place);
    }
}

void ScenePainter::drawMask(QCPPainter& painter) {
    if (!scene_.printing) return;
    const QRectF all = plot_.viewport();
    const QRectF area = inside();
    const QColor ground = scene_.look.ground;
    painter.fillRect(QRectF(all.topLeft(), QPointF(area.left(), all.bottom() + 1.0)), ground);
    painter.fillRect(QRectF(QPointF(area.right() + 1.0, all.top()), all.bottomRight() + QPointF(1.0, 1.0)), ground);
    painter.fillRect(QRectF(all.topLeft(), QPointF(all.right() + 1.0, area.top())), ground);
    painter.fillRect(QRectF(QPointF(all.left(), area.bottom() + 1.0), all.bottomRight() + QPointF(1.0, 1.0)), ground);
}

void ScenePainter::drawRing(QCPPainter& painter, QPointF at, const QColor& color, double radius) {
    if (!inside().adjusted(-1, -1, 1, 1).contains(at)) return;
    painter.setPen(QPen(color, 1.75));
    painter.setBrush(scene_.look.ground);
    painter.drawEllipse(at, radius, radius);
    painter.setBrush(Qt::NoBrush);
}

void ScenePainter::drawCursor(QCPPainter& painter) {
    if (scene_.printing) return;
    const QRectF area = inside();
    painter.setAntialiasing(true);
    const auto standing = [&](double x, Qt::PenStyle style) {
        const double at = std::round(pixel(x, 0.0).x()); // the library shifts by half a pixel itself
        if (at < area.left() - 1.0 || at > area.right() + 1.0) return false;
        painter.setPen(QPen(scene_.look.ink, 1.0, style));
        painter.drawLine(QLineF(at, area.top(), at, area.bottom()));
        return true;
    };
    if (scene_.anchor) standing(*scene_.anchor, Qt::DashLine);
    if (scene_.cursor && standing(*scene_.cursor, Qt::SolidLine)) {
        for (const ChartSeries& series : scene_.content.series) {
            if (series.freeForm || series.line == LineKind::None) continue;
            const double value = interpolated(series.x, series.y, *scene_.cursor);
            if (std::isfinite(value)) drawRing(painter, pixel(*scene_.cursor, value), scene_.color(series), 3.5);
        }
        if (!scene_.pointed) drawReadout(painter, scene_.readoutAt(*scene_.cursor), pixel(*scene_.cursor, 0.0).x());
    }
    if (scene_.tracer) drawRing(painter, pixel(scene_.tracer->x(), scene_.tracer->y()), scene_.look.ink, 5.0);
    if (scene_.pointed) drawPointed(painter);
}

void ScenePainter::drawPointed(QCPPainter& painter) {
    const ChartSeries& series = scene_.content.series[static_cast<std::size_t>(scene_.pointed->first)];
    const auto index = static_cast<std::size_t>(scene_.pointed->second);
    const QPointF at = pixel(series.x[index], series.y[index]);
    drawRing(painter, at, scene_.look.ink, 6.0);
    QStringList lines{axisNumber(scene_.content.x, series.x[index]), axisNumber(scene_.content.y, series.y[index])};
    if (!series.name.isEmpty()) lines.prepend(series.name);
    if (index < series.notes.size()) lines << series.notes[index].split(QLatin1Char('\n'));
    drawReadout(painter, lines, at.x());
}

void ScenePainter::drawReadout(QCPPainter& painter, const QStringList& lines, double x) {
    if (lines.isEmpty()) return;
    const QFont first = font(Type::SmallStrong);
    const QFont rest = font(Type::Small);
    const double height = QFontMetricsF(first).height() + 2.0;
    double width = figuresWidth(first, lines.front());
    for (const QString& line : lines)
        width = std::max(width, figuresWidth(rest, line));
    const QSizeF size(width + 2.0 * gridStep, height * static_cast<double>(lines.size()) + gridStep);
    const QRectF box = placeNearCursor(scene_.crowding, x, size).rect;
    QColor fill = scene_.look.sheet;
    fill.setAlphaF(0.92F);
    fillRounded(painter, box, 4.0, fill);
    painter.setBrush(Qt::NoBrush);
    for (qsizetype i = 0; i < lines.size(); ++i) {
        setInk(painter, i == 0 ? first : rest, i == 0 ? scene_.look.ink : scene_.look.soft);
        const QRectF row(box.left() + gridStep, box.top() + 0.5 * gridStep + height * static_cast<double>(i), width,
                         height);
        drawFigures(painter, row, Qt::AlignLeft | Qt::AlignVCenter, lines[i]);
    }
}

void RoundTicker::generate(const QCPRange& range, const QLocale&, QChar, int, QVector<double>& ticks,
                           QVector<double>* subTicks, QVector<QString>* tickLabels) {
    const QRect area = axis_->axisRect()->rect();
    const double length = axis_->orientation() == Qt::Horizontal ? area.width() : area.height();
    const int most = std::max(2, static_cast<int>(length / room_));
    QVector<QString> labels;
    ticks.clear();
    if (kind_ == ChartAxis::Kind::Date) {
        generateDates(range, most, ticks, labels);
    } else {
        const Range seen{range.lower, range.upper};
        const int decimals = decimalsOf(tickStep(seen, most));
        for (const double tick : rw::ticks(seen, most)) {
            ticks << tick;
            labels << figure(tick, decimals);
        }
    }
    if (subTicks != nullptr) subTicks->clear();
    if (tickLabels != nullptr) *tickLabels = labels;
}

void RoundTicker::generateDates(const QCPRange& range, int most, QVector<double>& ticks,
                                QVector<QString>& labels) const {
    constexpr double day = 86400.0;
    const double days = range.size() / day;
    const QDateTime first = QDateTime::fromSecsSinceEpoch(static_cast<qint64>(range.lower));
    const QDateTime last = QDateTime::fromSecsSinceEpoch(static_cast<qint64>(range.upper));
    const auto add = [&](const QDateTime& at, const QString& form) {
        if (at < first || at > last) return;
        ticks << static_cast<double>(at.toSecsSinceEpoch());
        labels << at.toString(form);
    };
    for (const int step : {1, 2, 7, 14}) {
        if (days / step > most) continue;
        for (QDate date = first.date(); date <= last.date(); date = date.addDays(1)) {
            if (date.toJulianDay() % step == 0) add(date.startOfDay(), QStringLiteral("d MMM"));
        }
        return;
    }
    for (const int step : {1, 2, 3, 6, 12, 24, 60, 120}) {
        if (days / 30.4 / step > most && step < 120) continue;
        for (QDate date(first.date().year(), 1, 1); date <= last.date(); date = date.addMonths(step)) {
            add(date.startOfDay(), step < 12 ? QStringLiteral("MMM yyyy") : QStringLiteral("yyyy"));
        }
        return;
    }
}

} // namespace rw
