#include "app/desktop/plan/curve_panels.h"

#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/chart.h"

#include <algorithm>
#include <map>

namespace rw {

namespace {

// Where a curve that falls first comes under a height; nullopt: it never does.
std::optional<double> fallsUnder(const std::vector<double>& x, const std::vector<double>& y, double height) {
    bool over = false;
    for (std::size_t i = 0; i < std::min(x.size(), y.size()); ++i) {
        if (over && y[i] < height) return x[i];
        over = over || y[i] >= height;
    }
    return std::nullopt;
}

double largest(const std::vector<double>& values) { return *std::max_element(values.begin(), values.end()); }

constexpr double secondsPerMinute = 60.0;

} // namespace

ForcePanel::ForcePanel(PlanSession& session, PlanCursor& cursor)
    : session_(session)
    , cursor_(cursor) {
    chart_ = named(new Chart, tr("Forces over speed"), "forceChart");
    chart_->setLink(&cursor_.speed());
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}),
        {new TextLabel(tr("Where the forces meet"), Type::Heading), grow(chart_)});
    connect(&session_, &PlanSession::outcomeChanged, this, &ForcePanel::draw);
    connect(&session_.desk().units, &Units::changed, this, &ForcePanel::draw);
    connect(&cursor_, &PlanCursor::moved, this, &ForcePanel::trace);
    draw();
}

void ForcePanel::draw() {
    const auto outcome = session_.outcome();
    const Units& units = session_.units();
    const UnitView speed = units.of(Dimension::Speed);
    ChartContent content;
    content.x = {.title = tr("speed"), .unit = speed.symbol, .decimals = 1};
    content.y = {.title = tr("force"), .unit = QStringLiteral("N"), .decimals = 1, .fromZero = true};
    if (!outcome) {
        content.empty = tr("Nothing to balance yet.");
        return chart_->setContent(std::move(content));
    }
    const ForceCurves& forces = outcome->forces;
    const std::vector<double> speeds = speed.shown(forces.speed);
    const double grip = largest(forces.traction), carried = std::max(grip, largest(forces.resistance));
    for (std::size_t i = forces.gearings.size(); i-- > 0;) {
        const GearingForce& gearing = forces.gearings[i];
        const bool fitted = i == 0;
        const bool smaller = gearing.pinion < forces.gearings.front().pinion;
        content.series.push_back(
            {.name = QStringLiteral("%1/%2").arg(gearing.pinion).arg(gearing.spur),
             .x = speeds,
             .y = gearing.drive,
             .hue = Hue::Current,
             .muted = false,
             .line = fitted    ? LineKind::Solid
                     : smaller ? LineKind::Dashed
                               : LineKind::Dotted,
             .width = fitted ? 2.0 : 1.0,
             // Neighbours are named below the tyres' grip: near it all run together.
             .labelAt = fitted ? std::nullopt : fallsUnder(speeds, gearing.drive, (smaller ? 0.7 : 0.45) * grip)});
    }
    content.series.push_back(
        {.name = tr("traction"), .x = speeds, .y = forces.traction, .hue = Hue::Output, .line = LineKind::Dashed});
    content.series.push_back(
        {.name = tr("drag and rolling"), .x = speeds, .y = forces.resistance, .hue = Hue::Power, .width = 2.0});
    if (forces.crossing)
        content.markers.push_back({.x = speed.shown(*forces.crossing),
                                   .y = forces.crossingForce,
                                   .label = units.figure(Dimension::Speed, forces.crossing)});
    // At a standstill the motor could push many times what the tyres carry: that part is cut off.
    const double drive = largest(forces.gearings.front().drive);
    content.y.range = Range{0.0, 1.05 * std::max(carried, std::min(drive, 1.6 * carried))};
    chart_->setContent(std::move(content));
    trace();
}

// The ring rides on the drive force at the cursor's speed.
void ForcePanel::trace() {
    const auto outcome = session_.outcome();
    const auto at = cursor_.speed().cursor();
    const auto metres = cursor_.metres();
    if (!outcome || !at || !metres) return chart_->setTracer({});
    if (const auto force = curveAt(outcome->curve, outcome->curve.force, *metres))
        chart_->setTracer(QPointF(*at, *force));
}

HeatPanel::HeatPanel(PlanSession& session)
    : session_(session)
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
    chart_ = named(new Chart, tr("Temperatures over the session"), "heatChart");
    dayChart_ = named(new Chart, tr("Passes back to back until a limit, over the wait between them"), "dayChart");
    lay(*rowIn(this, 3 * gridStep, {0, gridStep, 0, 0}), {grow(chart_, 13), grow(dayChart_, 8)});
    connect(&session_.desk().units, &Units::changed, this, &HeatPanel::draw);
    draw();
    drawDay();
}

void HeatPanel::draw() {
    const auto history = worker_.result();
    const UnitView degree = session_.units().of(Dimension::Temperature);
    ChartContent content;
    content.x = {.title = tr("time"), .unit = tr("min"), .decimals = 1};
    content.y = {.title = tr("temperature"), .unit = degree.symbol, .decimals = 0};
    if (!history || session_.empty()) {
        content.empty = session_.empty() ? tr("Put a setup on the bench to see its heat.") : QString();
        return chart_->setContent(std::move(content));
    }
    int number = 0;
    for (const auto& [from, to] : history->passes)
        content.regions.push_back(
            {.from = from / secondsPerMinute, .to = to / secondsPerMinute, .label = QString::number(++number)});
    const std::vector<double> minutes = UnitView{{}, 1.0 / secondsPerMinute}.shown(history->time);
    const auto add = [&](const QString& name, const std::vector<double>& column, Hue hue, LineKind line) {
        content.series.push_back({.name = name, .x = minutes, .y = degree.shown(column), .hue = hue, .line = line});
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
        return dayChart_->setContent(std::move(content));
    }
    ChartSeries line{.name = {}, .muted = true, .line = LineKind::Solid};
    std::map<QString, ChartSeries> ends;
    constexpr PointKind kinds[] = {PointKind::Disc, PointKind::Square, PointKind::Triangle, PointKind::Diamond,
                                   PointKind::Ring};
    for (const DayRow& row : day->rows) {
        const QString end =
            row.limit ? QString::fromUtf8(dayEndText(*row.limit)) : tr("nothing ends %1 passes").arg(row.passes);
        ChartSeries& series = ends[end];
        if (series.x.empty()) {
            series.name = end;
            series.hue = static_cast<int>(ends.size()) - 1;
            series.line = LineKind::None;
            series.point = kinds[(ends.size() - 1) % std::size(kinds)];
        }
        for (ChartSeries* to : {&line, &series})
            to->add(row.wait_s / secondsPerMinute, row.passes,
                    row.limit ? tr("%1 passes, then: %2").arg(row.passes).arg(end) : end);
    }
    content.series.push_back(std::move(line));
    for (auto& [end, series] : ends)
        content.series.push_back(std::move(series));
    dayChart_->setContent(std::move(content));
}

} // namespace rw
