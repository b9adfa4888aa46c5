#include "app/desktop/plan/strip_panel.h"

#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"
#include "core/units.h"
#include "plotting/axis_link.h"
#include "plotting/chart.h"
#include "plotting/look.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double top = 16.0, laneHeight = 28.0, noteTop = top + laneHeight + 6.0, noteHeight = 16.0;

constexpr int leftMargin = 46, rightMargin = 16;

QStringList readout(const PlanOutcome& outcome, const Units& units, double metres) {
    const PassCurve& curve = outcome.curve;
    const auto at = [&](const std::vector<double>& column) { return curveAt(curve, column, metres); };
    if (!at(curve.speed)) return {units.text(Dimension::Distance, metres)};
    return {units.text(Dimension::Distance, metres) + QStringLiteral(" · ") +
                units.text(Dimension::Time, at(curve.time)),
            units.text(Dimension::Speed, at(curve.speed)),
            units.text(Dimension::Current, at(curve.packCurrent)) + QStringLiteral(" · ") +
                units.text(Dimension::Voltage, at(curve.packVoltage), 1),
            StripPanel::tr("motor %1").arg(units.text(Dimension::Temperature, at(curve.motorCase)))};
}

} // namespace

StripView::StripView(AxisLink& link, const Units& units)
    : link_(link)
    , units_(units) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    setAccessibleName(tr("The strip from above"));
    connect(&link_, &AxisLink::cursorChanged, this, qOverload<>(&QWidget::update));
    connect(&link_, &AxisLink::rangeChanged, this, qOverload<>(&QWidget::update));
}

void StripView::setOutcome(std::shared_ptr<const PlanOutcome> outcome) {
    outcome_ = std::move(outcome);
    setAccessibleDescription(description());
    setToolTip(description());
    update();
}

void StripView::setMargins(int left, int right) {
    left_ = left;
    right_ = right;
    update();
}

QSize StripView::sizeHint() const { return {80 * gridStep, static_cast<int>(noteTop + noteHeight) + 4}; }

QString StripView::distanceText(double metres) const { return units_.text(Dimension::Distance, metres); }

double StripView::pixelAt(double metres) const {
    const double shown = units_.of(Dimension::Distance).shown(metres);
    const Range range = link_.range();
    return left_ + (shown - range.from) / range.span() * (width() - left_ - right_);
}

QString StripView::description() const {
    if (!outcome_) return {};
    QStringList words;
    for (const StripSegment& segment : stripSegments(outcome_->marks))
        words << tr("%1 %2").arg(stripWord(segment.kind), distanceText(segment.to - segment.from));
    return words.join(QStringLiteral(", "));
}

void StripView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Look& look = Look::of(this);
    if (!outcome_) return;
    painter.save();
    painter.setClipRect(QRectF(left_ - 8.0, 0.0, width() - left_ - right_ + 16.0, height()));
    for (const StripSegment& segment : stripSegments(outcome_->marks))
        paintSegment(painter, look, segment);
    const double from = pixelAt(0.0), to = pixelAt(outcome_->marks.end);
    painter.setPen(QPen(look.soft, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(QRectF(from, top, to - from, laneHeight).adjusted(0.5, 0.5, -0.5, -0.5));
    painter.fillRect(QRectF(to - 1.5, top - 4.0, 3.0, laneHeight + 8.0), look.ink); // where the venue ends
    paintCones(painter, look);
    painter.restore();
    paintWind(painter, look, paintNotes(painter, look) - gridStep);
    paintCursor(painter, look);
    if (!hasFocus()) return;
    painter.setPen(QPen(look.accent, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 4.0, 4.0);
}

void StripView::paintSegment(QPainter& painter, const Look& look, const StripSegment& segment) const {
    using Kind = StripKind;
    const QRectF box(pixelAt(segment.from), top, pixelAt(segment.to) - pixelAt(segment.from), laneHeight);
    QColor ink = look.ink;
    switch (segment.kind) {
    case Kind::RunUp:
        painter.fillRect(box, look.wash);
        break;
    case Kind::Timed:
        painter.fillRect(box, look.accent);
        ink = look.dark ? look.ground : look.sheet;
        break;
    case Kind::Coast:
        painter.fillRect(box, look.rule);
        break;
    case Kind::Brake: {
        QColor tint = look.warn;
        tint.setAlphaF(look.dark ? 0.28F : 0.16F);
        painter.fillRect(box, tint);
        break;
    }
    case Kind::Left:
        painter.fillRect(box, look.sheet);
        break;
    case Kind::Beyond:
        drawHatch(painter, box, look.bad);
        ink = look.bad;
        break;
    }
    const QFont name = rw::font(segment.kind == Kind::Timed ? Type::SmallStrong : Type::Small);
    const QString length = distanceText(segment.to - segment.from);
    const QString whole =
        segment.kind == Kind::Left ? length + u' ' + stripWord(segment.kind) : stripWord(segment.kind) + u' ' + length;
    setInk(painter, name, ink);
    const double room = box.width() - 8.0;
    for (const QString& words : {whole, length}) {
        if (figuresWidth(name, words) > room || segment.kind == Kind::Beyond) continue;
        drawFigures(painter, box, Qt::AlignHCenter | Qt::AlignVCenter, words);
        break;
    }
}

void StripView::paintCones(QPainter& painter, const Look& look) const {
    painter.setPen(Qt::NoPen);
    painter.setBrush(look.warn);
    for (const double at : stripCones(outcome_->marks)) {
        const double x = pixelAt(at);
        QPainterPath cone;
        cone.moveTo(x - 4.5, top - 4.0);
        cone.lineTo(x, top - 14.0);
        cone.lineTo(x + 4.5, top - 4.0);
        cone.closeSubpath();
        painter.drawPath(cone);
    }
}

double StripView::paintNotes(QPainter& painter, const Look& look) const {
    const StripMarks& marks = outcome_->marks;
    const QFont small = rw::font(Type::Small);
    painter.setFont(small);
    const double right = width() - right_;
    const bool beyond = marks.stop > marks.end;
    const QString end = tr("end of strip %1").arg(distanceText(marks.end));
    const QString stop = beyond ? tr("stands %1 beyond the end").arg(distanceText(marks.stop - marks.end))
                                : tr("stands at %1").arg(distanceText(marks.stop));
    const double endWidth = figuresWidth(small, end), stopWidth = figuresWidth(small, stop);
    double endRight = std::min(right, pixelAt(marks.end) + 0.5 * endWidth);
    double stopRight = std::min(right, pixelAt(marks.stop) + 0.5 * stopWidth);
    // Kept apart by moving the left one of the two.
    if (beyond)
        endRight = std::min(endRight, stopRight - stopWidth - 16.0);
    else
        stopRight = std::min(stopRight, endRight - endWidth - 16.0);
    painter.setPen(look.soft);
    drawFigures(painter, QRectF(endRight - endWidth, noteTop, endWidth, noteHeight), Qt::AlignLeft | Qt::AlignVCenter,
                end);
    painter.setPen(beyond ? look.bad : look.soft);
    drawFigures(painter, QRectF(stopRight - stopWidth, noteTop, stopWidth, noteHeight),
                Qt::AlignLeft | Qt::AlignVCenter, stop);
    return std::min(endRight - endWidth, stopRight - stopWidth);
}

// The arrow flies with the wind, seen from above with the car driving to the right.
void StripView::paintWind(QPainter& painter, const Look& look, double room) const {
    const PlanInput& in = outcome_->input;
    const QFont small = rw::font(Type::Small);
    setInk(painter, small, look.soft);
    if (in.wind.speed_mps <= 0.0)
        return drawFigures(painter, QRectF(left_, noteTop, 200.0, noteHeight), Qt::AlignLeft | Qt::AlignVCenter,
                           tr("no wind"));
    const double angle = in.wind.from_deg - in.venue.heading_deg; // 0: head wind, blowing to the left
    const double head = in.wind.speed_mps * std::cos(angle * radPerDeg);
    painter.save();
    painter.translate(left_ + 12.0, noteTop + 0.5 * noteHeight);
    painter.rotate(180.0 + angle);
    strokeLine(painter, QPen(look.ink, 1.4), QPointF(-10.0, 0.0), QPointF(10.0, 0.0));
    painter.drawLine(QPointF(10.0, 0.0), QPointF(5.0, -3.5));
    painter.drawLine(QPointF(10.0, 0.0), QPointF(5.0, 3.5));
    painter.restore();
    painter.setPen(look.soft);
    const QString speed = units_.text(Dimension::Speed, in.wind.speed_mps);
    const QString along = (head >= 0.0 ? tr("wind %1, head %2") : tr("wind %1, tail %2"))
                              .arg(speed, units_.text(Dimension::Speed, std::abs(head)));
    for (const QString& words : {along, speed}) { // what there is room for
        if (left_ + 30.0 + figuresWidth(small, words) > room) continue;
        drawFigures(painter, QRectF(left_ + 30.0, noteTop, room, noteHeight), Qt::AlignLeft | Qt::AlignVCenter, words);
        break;
    }
}

void StripView::paintCursor(QPainter& painter, const Look& look) const {
    if (!link_.cursor()) return;
    const double x = pixelAt(units_.of(Dimension::Distance).inside(*link_.cursor()));
    if (x < left_ || x > width() - right_) return;
    strokeLine(painter, QPen(look.ink, 1.0), QPointF(x, top - 2.0), QPointF(x, height()));
    // The car, seen from above.
    painter.setPen(QPen(look.sheet, 1.0));
    painter.setBrush(look.hue(Hue::Speed));
    painter.drawRoundedRect(QRectF(x - 8.0, top + 0.5 * laneHeight - 4.0, 16.0, 8.0), 3.0, 3.0);
}

void StripView::mouseMoveEvent(QMouseEvent* event) {
    const Range range = link_.range();
    const double inside =
        std::clamp(event->position().x(), static_cast<double>(left_), static_cast<double>(width() - right_));
    link_.hover(range.from +
                (inside - left_) / std::max(1.0, static_cast<double>(width() - left_ - right_)) * range.span());
}

void StripView::leaveEvent(QEvent*) { link_.hover({}); }

void StripView::keyPressEvent(QKeyEvent* event) {
    const double step = link_.range().span() / 200.0;
    const double at = link_.cursor().value_or(link_.range().from);
    if (event->key() == Qt::Key_Left)
        link_.setCursor(std::max(link_.range().from, at - step));
    else if (event->key() == Qt::Key_Right)
        link_.setCursor(std::min(link_.range().to, at + step));
    else if (event->key() == Qt::Key_Escape)
        link_.setCursor({});
    else
        QWidget::keyPressEvent(event);
}

StripPanel::StripPanel(PlanSession& session, PlanCursor& cursor)
    : session_(session)
    , cursor_(cursor) {
    strip_ = new StripView(cursor_.distance(), session_.units());
    chart_ = named(new Chart, tr("Speed over distance"), "speedChart");
    chart_->setLink(&cursor_.distance());
    chart_->setMargins(leftMargin, rightMargin);
    strip_->setMargins(leftMargin, rightMargin);
    lay(*columnIn(this, gridStep), {new TextLabel(tr("The strip"), Type::Heading), strip_, grow(chart_)});
    connect(&session_, &PlanSession::outcomeChanged, this, &StripPanel::draw);
    connect(&session_, &PlanSession::rivalChanged, this, &StripPanel::draw);
    connect(&session_.desk().units, &Units::changed, this, &StripPanel::draw);
    draw();
}

void StripPanel::showCurves(bool curves) {
    chart_->setVisible(curves);
    setMaximumHeight(curves ? QWIDGETSIZE_MAX : layout()->sizeHint().height());
}

void StripPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    strip_->update();
}

void StripPanel::draw() {
    const auto outcome = session_.outcome();
    const Units& units = session_.units();
    const UnitView metre = units.of(Dimension::Distance), speed = units.of(Dimension::Speed);
    ChartContent content;
    content.x = {.title = tr("distance"), .unit = metre.symbol, .decimals = 0};
    content.y = {.title = tr("speed"), .unit = speed.symbol, .decimals = 1, .fromZero = true};
    strip_->setOutcome(outcome);
    if (!outcome) {
        content.empty = session_.empty() ? tr("Put a setup on the bench to see its pass.") : session_.problem();
        return chart_->setContent(std::move(content));
    }
    const StripMarks& marks = outcome->marks;
    content.regions.push_back({.from = metre.shown(marks.zoneEntry), .to = metre.shown(marks.zoneExit)});
    if (const auto rival = session_.rival())
        content.series.push_back({.name = session_.rivalName(),
                                  .x = metre.shown(rival->curve.distance),
                                  .y = speed.shown(rival->curve.speed),
                                  .muted = true,
                                  .line = LineKind::Dashed});
    const auto& gears = outcome->input.gears;
    content.series.push_back({.name = pairText(gears.pinion_teeth, gears.spur_teeth),
                              .x = metre.shown(outcome->curve.distance),
                              .y = speed.shown(outcome->curve.speed),
                              .hue = Hue::Speed,
                              .width = 2.0});
    if (const auto target = outcome->input.drive.target_mps)
        content.limits.push_back(
            {.value = speed.shown(*target), .label = tr("target %1").arg(units.figure(Dimension::Speed, target))});
    chart_->setReadout(
        [outcome, &units](double x) { return readout(*outcome, units, units.of(Dimension::Distance).inside(x)); });
    chart_->setContent(std::move(content));
}

} // namespace rw
