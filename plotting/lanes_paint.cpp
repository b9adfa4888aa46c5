#include "plotting/lanes_paint.h"

#include "plotting/lanes_room.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

void paintPredictions(QPainter& painter, const LanePicture& lane, LaneRoom& room) {
    const LanesGeometry& g = lane.g;
    painter.save();
    painter.setClipRect(lane.area());
    painter.setBrush(Qt::NoBrush);
    QPen pen(lane.look.hue(lane.what.hue), 1.25, Qt::CustomDashLine);
    pen.setDashPattern({5.0, 4.0});
    constexpr double shortest = 2.0; // pixels: below that no dash is to be seen
    for (const LaneTrace& trace : lane.what.traces) {
        if (trace.curve == nullptr || trace.curve->x.empty()) continue;
        const LaneCurve& curve = *trace.curve;
        const double from = trace.at + curve.x.front(), to = trace.at + curve.x.back();
        if (from > g.time.to || to < g.time.from || g.pixelOf(to) - g.pixelOf(from) < shortest) continue;
        QPolygonF line;
        for (std::size_t i = 0; i < std::min(curve.x.size(), curve.y.size()); ++i) {
            if (!std::isfinite(curve.y[i])) continue;
            line << QPointF(g.pixelOf(trace.at + curve.x[i]), lane.pixelOf(curve.y[i]));
        }
        line = cutToWidth(line, g.left, g.right);
        painter.setPen(pen);
        painter.drawPolyline(line);
        if (line.isEmpty() || trace.label.isEmpty()) continue;
        painter.setFont(font(Type::Small));
        const QFontMetricsF metrics(painter.font());
        const double width = metrics.horizontalAdvance(trace.label);
        if (line.back().x() - line.front().x() < 3.0 * width)
            continue; // over a short piece it would hide more than it says
        const auto top = std::min_element(line.begin(), line.end(), [](QPointF a, QPointF b) { return a.y() < b.y(); });
        const double x = std::clamp(top->x(), g.left + 2.0, std::max(g.left + 2.0, g.right - width - 2.0));
        const QRectF place(x, std::max(lane.top(), top->y() - metrics.height() - 1.0), width + 1.0, metrics.height());
        painter.setPen(lane.look.soft);
        painter.drawText(place, Qt::AlignLeft | Qt::TextDontClip, trace.label);
        room.take(place);
    }
    painter.restore();
}

// What is seen of a band: from its height down to the lane's foot.
QRectF seenOf(const LaneBand& band, const LanePicture& lane) {
    const LanesGeometry& g = lane.g;
    const double from = std::max(g.left, g.pixelOf(band.from)), to = std::min(g.right, g.pixelOf(band.to));
    return {QPointF(from, std::max(lane.top(), lane.pixelOf(band.below))), QPointF(to, lane.bottom())};
}

double heightOf(const LaneLimit& limit, const LanePicture& lane) { return std::round(lane.pixelOf(limit.value)) + 0.5; }

void paintLimits(QPainter& painter, const LanePicture& lane) {
    for (const LaneBand& band : lane.what.bands) {
        const QRectF seen = seenOf(band, lane);
        if (seen.width() <= 0.0 || seen.height() <= 0.0) continue;
        QColor color = lane.look.warn;
        color.setAlphaF(0.45F);
        drawHatch(painter, seen, color);
    }
    QPen pen(lane.look.soft, 1.0, Qt::CustomDashLine);
    pen.setDashPattern({2.0, 4.0});
    painter.setPen(pen);
    for (const LaneLimit& limit : lane.what.limits) {
        const double y = heightOf(limit, lane);
        if (y >= lane.top() && y <= lane.bottom()) painter.drawLine(QPointF(lane.g.left, y), QPointF(lane.g.right, y));
    }
}

// Names of limits and bands, where they lie over no line; else on a plate; where other names stand, not at all.
void paintLimitNames(QPainter& painter, const LanePicture& lane, LaneRoom& room) {
    painter.setFont(font(Type::Small));
    const QFontMetricsF metrics(painter.font());
    const auto write = [&](const QString& text, const QRectF& place, bool plate) {
        QColor halo = lane.look.ground;
        halo.setAlphaF(0.85F);
        if (plate) painter.fillRect(place.adjusted(-2.0, 0.0, 2.0, 0.0), halo);
        painter.setPen(lane.look.soft);
        painter.drawText(place, Qt::AlignLeft | Qt::TextDontClip, text);
        room.take(place);
    };
    const auto name = [&](const QString& text, double y, double left, double right, bool plate) {
        const QSizeF size(metrics.horizontalAdvance(text) + 2.0, metrics.height());
        if (const auto place = room.beside(y, size, left, right)) return write(text, *place, plate);
        if (const auto place = room.beside(y, size, left, right, true)) write(text, *place, true);
    };
    for (const LaneBand& band : lane.what.bands) {
        const QRectF seen = seenOf(band, lane);
        if (seen.height() <= 0.0 || seen.width() < metrics.horizontalAdvance(band.label) + 8.0) continue;
        const double inside = seen.bottom() - metrics.height() - 3.0; // else it stands above the band
        name(band.label, inside < seen.top() ? seen.top() : inside, seen.left() + 2.0, seen.right() - 2.0, true);
    }
    for (const LaneLimit& limit : lane.what.limits) {
        const double y = heightOf(limit, lane);
        if (y >= lane.top() && y <= lane.bottom()) name(limit.label, y, lane.g.left, lane.g.right, false);
    }
}

void paintFrame(QPainter& painter, const LanePicture& lane) {
    const LanesGeometry& g = lane.g;
    const double base = std::round(lane.bottom()) + 0.5;
    strokeLine(painter, QPen(lane.look.rule, 1.0), QPointF(g.left, base), QPointF(g.right, base));

    const double numbers = 44.0;
    const QFont strong = font(Type::Strong);
    const double height = QFontMetricsF(strong).height();
    const double top = lane.top() + 4.0;
    setInk(painter, strong, lane.look.ink);
    const double nameWidth = g.left - numbers - 2.0 * gridStep;
    painter.drawText(QRectF(gridStep, top, nameWidth, height), Qt::AlignLeft | Qt::AlignVCenter,
                     QFontMetricsF(strong).elidedText(lane.what.title, Qt::ElideRight, nameWidth));
    setInk(painter, Type::Small, lane.look.soft);
    const double small = QFontMetricsF(painter.font()).height();
    const int decimals = std::max(decimalsOf(lane.values.to), decimalsOf(lane.values.from));
    const auto number = [&](double value) {
        const double y = lane.pixelOf(value);
        drawFigures(painter, QRectF(g.left - numbers - gridStep, y - 0.5 * small, numbers, small),
                    Qt::AlignRight | Qt::AlignVCenter, figure(value, std::min(decimals, 3)));
    };
    number(lane.values.to);
    if (g.laneHeight > 2.0 * small + 16.0) number(lane.values.from);
}

void paintSpans(QPainter& painter, const LanesPicture& picture) {
    const LanesGeometry& g = picture.geometry;
    const double bottom = g.laneBottom(g.count - 1);
    painter.setFont(font(Type::SmallStrong));
    const QFontMetricsF metrics(painter.font());
    double taken = g.left; // labels go left to right; one that would touch the last is left out
    for (const LaneSpan& span : picture.content.spans) {
        const double from = std::max(g.left, g.pixelOf(span.from));
        const double to = std::min(g.right, g.pixelOf(span.to));
        if (to < from) continue;
        QColor fill = picture.look.warn;
        fill.setAlphaF(0.13F);
        painter.fillRect(QRectF(from, g.top - 4.0, std::max(1.0, to - from), bottom - g.top + 4.0), fill);
        const double width = metrics.horizontalAdvance(span.label);
        const double x = std::clamp(0.5 * (from + to - width), g.left, std::max(g.left, g.right - width));
        if (x < taken || span.label.isEmpty()) continue;
        painter.setPen(picture.look.soft);
        painter.drawText(QRectF(x, g.top - 6.0 - metrics.height(), width + 1.0, metrics.height()),
                         Qt::AlignLeft | Qt::TextDontClip, span.label);
        taken = x + width + gridStep;
    }
}

// Between two sessions: how long nothing was logged, where there is room to say it.
void paintGap(QPainter& painter, const LanesPicture& picture, const LaneSegment& before, const LaneSegment& after) {
    const LanesGeometry& g = picture.geometry;
    if (!before.passed || !after.passed) return;
    const double seconds = *after.passed - *before.passed - (before.to - before.from);
    const double from = std::max(g.left, g.pixelOf(before.to));
    const double to = std::min(g.right, g.pixelOf(after.from));
    const QString text = seconds < 90.0     ? figure(seconds, 0) + QStringLiteral(" s")
                         : seconds < 5400.0 ? figure(seconds / 60.0, 0) + QStringLiteral(" min")
                                            : figure(seconds / 3600.0, 1) + QStringLiteral(" h");
    setInk(painter, Type::Small, picture.look.soft);
    const QFontMetricsF metrics(painter.font());
    if (to - from < metrics.horizontalAdvance(text) + 6.0) return;
    painter.drawText(QRectF(from, 3.0, to - from, metrics.height()), Qt::AlignCenter, text);
}

void paintSegments(QPainter& painter, const LanesPicture& picture) {
    const LanesGeometry& g = picture.geometry;
    const double bottom = g.laneBottom(g.count - 1);
    const QFont strong = font(Type::SmallStrong);
    const QFontMetricsF metrics(strong);
    const auto& segments = picture.content.segments;
    for (std::size_t i = 1; i < segments.size(); ++i)
        paintGap(painter, picture, segments[i - 1], segments[i]);
    for (const LaneSegment& segment : segments) {
        const double from = g.pixelOf(segment.from);
        const double to = g.pixelOf(segment.to);
        if (to < g.left || from > g.right) continue;
        QColor line = picture.look.soft;
        line.setAlphaF(0.8F);
        painter.setPen(QPen(line, 1.0));
        for (const double edge : {from, to}) {
            if (edge < g.left - 0.5 || edge > g.right + 0.5) continue;
            const double x = std::round(edge) + 0.5;
            painter.drawLine(QPointF(x, 4.0), QPointF(x, bottom));
        }
        const double left = std::max(from, g.left) + 6.0;
        const double room = std::min(to, g.right) - left - 4.0;
        if (room < 24.0) continue;
        setInk(painter, strong, picture.look.ink);
        painter.drawText(QRectF(left, 3.0, room, metrics.height()), Qt::AlignLeft,
                         metrics.elidedText(segment.label, Qt::ElideRight, room));
    }
}

QString clockText(double seconds, double step, bool minutesToo) {
    const int decimals = decimalsOf(step);
    if (!minutesToo) return figure(seconds, decimals);
    const double whole = std::abs(seconds);
    const auto minutes = static_cast<int>((whole + 0.5 * std::pow(10.0, -decimals)) / 60.0);
    const double rest = std::max(0.0, whole - 60.0 * minutes);
    const QString sign = seconds < -1e-9 ? QString(QChar(0x2212)) : QString();
    const QString padded =
        QString::number(rest, 'f', decimals).rightJustified(decimals > 0 ? 3 + decimals : 2, QLatin1Char('0'));
    return sign + QString::number(minutes) + QLatin1Char(':') + padded;
}

void paintTimes(QPainter& painter, const LanesPicture& picture) {
    const LanesGeometry& g = picture.geometry;
    const double y = g.laneBottom(g.count - 1) + 8.0;
    setInk(painter, Type::Small, picture.look.soft);
    const QFontMetricsF metrics(painter.font());
    const double height = metrics.height();
    const QString name = metrics.elidedText(picture.content.timeLabel, Qt::ElideRight, g.left - 3.0 * gridStep);
    painter.drawText(QPointF(gridStep, y + metrics.ascent()), name);
    const int most = std::max(2, static_cast<int>((g.right - g.left) / 80.0));
    std::vector<LaneSegment> segments = picture.content.segments;
    if (segments.empty()) segments.push_back({g.time.from, g.time.to, 0.0, {}});
    double taken = gridStep + metrics.horizontalAdvance(name) + gridStep;
    const std::vector<double> whole = timeTicks({0.0, g.time.span()}, most);
    const double step = whole.size() > 1 ? whole[1] - whole[0] : g.time.span();
    for (const LaneSegment& segment : segments) {
        const double from = std::max(segment.from, g.time.from) - segment.zero;
        const double to = std::min(segment.to, g.time.to) - segment.zero;
        const bool clock = step >= 10.0 || std::max(std::abs(from), std::abs(to)) >= 120.0;
        for (double k = std::ceil(from / step - 1e-9); k * step <= to + 1e-9 * step; k += 1.0) {
            const double x = g.pixelOf(k * step + segment.zero);
            const QString text = clockText(k * step, step, clock);
            const double width = figuresWidth(painter.font(), text);
            if (x - 0.5 * width < taken || x + 0.5 * width > g.right + 14.0) continue;
            drawFigures(painter, QRectF(x - 40.0, y, 80.0, height), Qt::AlignHCenter | Qt::AlignTop, text);
            taken = x + 0.5 * width + gridStep;
        }
    }
}

} // namespace

void paintLanes(QPainter& painter, const LanesPicture& picture) {
    const LanesContent& content = picture.content;
    const LanesGeometry& g = picture.geometry;
    painter.setRenderHint(QPainter::Antialiasing);
    if (content.lanes.empty() || content.time == nullptr) {
        setInk(painter, Type::Body, picture.look.soft);
        painter.drawText(QRectF(0.0, 0.0, g.right, g.top + g.laneHeight), Qt::AlignCenter | Qt::TextWordWrap,
                         content.empty);
        return;
    }
    paintSpans(painter, picture);
    for (int i = 0; i < g.count; ++i)
        paintLimits(painter, {picture, i});
    paintTraces(painter, picture);
    const PixelColumns columns = wordColumns(picture);
    for (int i = 0; i < g.count; ++i) {
        const LanePicture lane(picture, i);
        LaneRoom room(lane, columns);
        paintPredictions(painter, lane, room);
        paintLimitNames(painter, lane, room);
        paintFrame(painter, lane);
    }
    paintSegments(painter, picture);
    paintTimes(painter, picture);
}

QString momentText(const LanesContent& content, Range seen, double t) {
    double zero = 0.0;
    for (const LaneSegment& segment : content.segments) {
        if (t >= segment.from && t <= segment.to) zero = segment.zero;
    }
    const double fine = std::pow(10.0, std::floor(std::log10(std::max(1e-6, seen.span() / 1000.0))));
    const double step = std::clamp(fine, 1e-4, 1.0);
    const bool clock = std::abs(t - zero) >= 120.0;
    return clock ? clockText(t - zero, step, true) : clockText(t - zero, step, false) + QStringLiteral(" s");
}

} // namespace rw
