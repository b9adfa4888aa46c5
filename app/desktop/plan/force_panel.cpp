#include "app/desktop/plan/force_panel.h"

#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/units.h"
#include "plotting/chart.h"

#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

std::vector<double> shown(const std::vector<double>& values, const UnitView& unit) {
    std::vector<double> out(values.size());
    std::transform(values.begin(), values.end(), out.begin(), [&unit](double value) { return unit.shown(value); });
    return out;
}

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

} // namespace

ForcePanel::ForcePanel(PlanSession& session, PlanCursor& cursor, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , cursor_(cursor) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep);
    column->addWidget(new TextLabel(tr("Where the forces meet"), Type::Heading));
    chart_ = new Chart;
    chart_->setObjectName(QStringLiteral("forceChart"));
    chart_->setAccessibleName(tr("Forces over speed"));
    chart_->setLink(&cursor_.speed());
    column->addWidget(chart_, 1);
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
        chart_->setContent(std::move(content));
        return;
    }
    const ForceCurves& forces = outcome->forces;
    const std::vector<double> speeds = shown(forces.speed, speed);
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
    if (!outcome || !at || !metres) {
        chart_->setTracer({});
        return;
    }
    if (const auto force = curveAt(outcome->curve, outcome->curve.force, *metres))
        chart_->setTracer(QPointF(*at, *force));
}

} // namespace rw
