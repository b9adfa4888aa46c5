#include "app/desktop/plan/heat_panel.h"

#include "app/desktop/shared/labels.h"
#include "plotting/chart.h"

#include <QVBoxLayout>

#include <algorithm>
#include <map>

namespace rw {

namespace {

constexpr double secondsPerMinute = 60.0;

std::vector<double> shown(const std::vector<double>& values, double factor, double offset) {
    std::vector<double> out(values.size());
    std::transform(values.begin(), values.end(), out.begin(), [=](double value) { return value * factor + offset; });
    return out;
}

} // namespace

HeatPanel::HeatPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , worker_(
          this, session,
          [](const PlanInput& input, const std::stop_token&) {
              return heatHistory(input, passesWorthShowing(input, simulatePlan(input).passesUntilLimit));
          },
          [this] { draw(); }) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    chart_ = new Chart;
    chart_->setObjectName(QStringLiteral("heatChart"));
    chart_->setAccessibleName(tr("Temperatures over the session"));
    column->addWidget(chart_);
    connect(&session_.desk().units, &Units::changed, this, &HeatPanel::draw);
    draw();
}

void HeatPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    worker_.setWanted(true);
}

void HeatPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    worker_.setWanted(false);
}

void HeatPanel::draw() {
    const auto history = worker_.result();
    const UnitView degree = session_.units().of(Dimension::Temperature);
    ChartContent content;
    content.x = {.title = tr("time"), .unit = tr("min"), .decimals = 1};
    content.y = {.title = tr("temperature"), .unit = degree.symbol, .decimals = 0};
    if (!history || session_.empty()) {
        content.empty = session_.empty() ? tr("Put a setup on the bench to see its heat.") : QString();
        chart_->setContent(std::move(content));
        return;
    }
    int number = 0;
    for (const auto& [from, to] : history->passes)
        content.regions.push_back(
            {.from = from / secondsPerMinute, .to = to / secondsPerMinute, .label = QString::number(++number)});
    const std::vector<double> minutes = shown(history->time, 1.0 / secondsPerMinute, 0.0);
    const auto add = [&](const QString& name, const std::vector<double>& column, Hue hue, LineKind line) {
        content.series.push_back(
            {.name = name, .x = minutes, .y = shown(column, degree.factor, degree.offset), .hue = hue, .line = line});
    };
    add(tr("winding"), history->winding, Hue::MotorHeat, LineKind::Dashed);
    add(tr("controller"), history->controller, Hue::ControllerHeat, LineKind::Solid);
    add(tr("pack"), history->pack, Hue::PackHeat, LineKind::Solid);
    add(tr("motor case"), history->motorCase, Hue::MotorHeat, LineKind::Solid);
    // One line where several parts share a comfort temperature.
    std::map<double, QStringList> comfort;
    const PlanInput& in = session_.input();
    comfort[in.motor.comfort_C] << tr("motor");
    comfort[in.controller.comfort_C] << tr("controller");
    comfort[in.pack.comfort_C] << tr("pack");
    for (const auto& [temperature, parts] : comfort)
        content.limits.push_back(
            {.value = degree.shown(temperature), .label = tr("comfort, %1").arg(parts.join(tr(" and ")))});
    chart_->setContent(std::move(content));
}

} // namespace rw
