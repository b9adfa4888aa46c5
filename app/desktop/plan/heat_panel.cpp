#include "app/desktop/plan/heat_panel.h"

#include "app/desktop/shared/labels.h"
#include "core/plan/repeats.h"
#include "plotting/chart.h"

#include <QHBoxLayout>

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
          [this] { draw(); })
    , dayWorker_(
          this, session,
          [](const PlanInput& input, const std::stop_token& stop) {
              return dayOfPasses(input, {.passes = DayOptions{}.passes, .waits_s = {}, .work = {stop, {}, 0}});
          },
          [this] { drawDay(); }) {
    auto* column = new QHBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    chart_ = new Chart;
    chart_->setObjectName(QStringLiteral("heatChart"));
    chart_->setAccessibleName(tr("Temperatures over the session"));
    column->setSpacing(3 * gridStep);
    column->addWidget(chart_, 13);
    dayChart_ = new Chart;
    dayChart_->setObjectName(QStringLiteral("dayChart"));
    dayChart_->setAccessibleName(tr("Passes back to back until a limit, over the wait between them"));
    column->addWidget(dayChart_, 8);
    connect(&session_.desk().units, &Units::changed, this, &HeatPanel::draw);
    draw();
    drawDay();
}

void HeatPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    worker_.setWanted(true);
    dayWorker_.setWanted(true);
}

void HeatPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    worker_.setWanted(false);
    dayWorker_.setWanted(false);
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

// A point a wait, marked by what ends the passes there.
void HeatPanel::drawDay() {
    const auto day = dayWorker_.result();
    ChartContent content;
    content.x = {.title = tr("wait between passes"), .unit = tr("min"), .decimals = 1};
    content.y = {.title = tr("passes until a limit"), .unit = {}, .decimals = 0, .fromZero = true};
    if (!day || session_.empty()) {
        content.empty = session_.empty() ? tr("Put a setup on the bench to see how many passes it takes.") : QString();
        dayChart_->setContent(std::move(content));
        return;
    }
    ChartSeries line{.name = {}, .muted = true, .line = LineKind::Solid};
    std::map<QString, ChartSeries> ends;
    constexpr PointKind kinds[] = {PointKind::Disc, PointKind::Square, PointKind::Triangle, PointKind::Diamond,
                                   PointKind::Ring};
    for (const DayRow& row : day->rows) {
        const QString end = row.limit ? QString::fromUtf8(dayEndText(*row.limit).data(),
                                                          static_cast<qsizetype>(dayEndText(*row.limit).size()))
                                      : tr("nothing ends %1 passes").arg(row.passes);
        ChartSeries& series = ends[end];
        if (series.x.empty()) {
            series.name = end;
            series.hue = static_cast<int>(ends.size()) - 1;
            series.line = LineKind::None;
            series.point = kinds[(ends.size() - 1) % std::size(kinds)];
        }
        for (ChartSeries* to : {&line, &series}) {
            to->x.push_back(row.wait_s / secondsPerMinute);
            to->y.push_back(row.passes);
            to->notes.push_back(row.limit ? tr("%1 passes, then: %2").arg(row.passes).arg(end) : end);
        }
    }
    content.series.push_back(std::move(line));
    for (auto& [end, series] : ends)
        content.series.push_back(std::move(series));
    dayChart_->setContent(std::move(content));
}

} // namespace rw
