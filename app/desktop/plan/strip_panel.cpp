#include "app/desktop/plan/strip_panel.h"

#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/strip_view.h"
#include "app/desktop/shared/labels.h"
#include "plotting/chart.h"

#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

constexpr int leftMargin = 46, rightMargin = 16;

std::vector<double> shown(const std::vector<double>& values, const UnitView& unit) {
    std::vector<double> out(values.size());
    std::transform(values.begin(), values.end(), out.begin(), [&unit](double value) { return unit.shown(value); });
    return out;
}

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

StripPanel::StripPanel(PlanSession& session, PlanCursor& cursor, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , cursor_(cursor) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gridStep);
    column->addWidget(new TextLabel(tr("The strip"), Type::Heading));
    strip_ = new StripView(cursor_.distance(), session_.units());
    chart_ = new Chart;
    chart_->setObjectName(QStringLiteral("speedChart"));
    chart_->setAccessibleName(tr("Speed over distance"));
    chart_->setLink(&cursor_.distance());
    chart_->setMargins(leftMargin, rightMargin);
    strip_->setMargins(leftMargin, rightMargin);
    column->addWidget(strip_);
    column->addWidget(chart_, 1);
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
        chart_->setContent(std::move(content));
        return;
    }
    const StripMarks& marks = outcome->marks;
    content.regions.push_back({.from = metre.shown(marks.zoneEntry), .to = metre.shown(marks.zoneExit)});
    if (const auto rival = session_.rival())
        content.series.push_back({.name = session_.rivalName(),
                                  .x = shown(rival->curve.distance, metre),
                                  .y = shown(rival->curve.speed, speed),
                                  .muted = true,
                                  .line = LineKind::Dashed});
    const auto& gears = outcome->input.gears;
    content.series.push_back({.name = QStringLiteral("%1/%2").arg(gears.pinion_teeth).arg(gears.spur_teeth),
                              .x = shown(outcome->curve.distance, metre),
                              .y = shown(outcome->curve.speed, speed),
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
