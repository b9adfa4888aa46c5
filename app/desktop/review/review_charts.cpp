#include "app/desktop/review/review_charts.h"

#include "app/desktop/review/review_units.h"
#include "core/log/time_text.h"
#include "core/review/compare.h"
#include "core/units.h"

#include <QCoreApplication>

#include <algorithm>

namespace rw {

namespace {

QString say(const char* text) { return QCoreApplication::translate("ReviewCharts", text); }

void addTemperatureLimit(Lane& lane, const UnitView& unit, double celsius, const QString& name) {
    const double shown = unit.shown(kelvinFromCelsius(celsius));
    lane.limits.push_back({shown, name + QLatin1Char(' ') + figure(shown, 0)});
}

// Limits of the plan that the log is judged by; without a plan the review's own words tell limits.
void addLimits(Lane& lane, const UnitView& unit, Quantity quantity, const PlanInput& plan) {
    const auto current = [&](std::optional<double> limit, const QString& name) {
        if (limit) lane.limits.push_back({*limit, name + QLatin1Char(' ') + figure(*limit, 0)});
    };
    switch (quantity) {
    case Quantity::MotorTemperature:
        addTemperatureLimit(lane, unit, plan.motor.comfort_C, say("comfort"));
        addTemperatureLimit(lane, unit, plan.motor.limit_C, say("limit"));
        break;
    case Quantity::ControllerTemperature:
        addTemperatureLimit(lane, unit, plan.controller.comfort_C, say("comfort"));
        addTemperatureLimit(lane, unit, plan.controller.limit_C, say("limit"));
        break;
    case Quantity::PackTemperature:
        addTemperatureLimit(lane, unit, plan.pack.comfort_C, say("comfort"));
        addTemperatureLimit(lane, unit, plan.pack.limit_C, say("limit"));
        break;
    case Quantity::PackCurrent:
        if (plan.pack.continuous_c_rate) {
            current(*plan.pack.continuous_c_rate * plan.pack.capacity_Ah, say("pack continuous"));
        }
        current(plan.controller.pack_current_limit_A, say("controller's limit"));
        break;
    case Quantity::MotorCurrent:
        current(plan.controller.motor_current_limit_A, say("controller's limit"));
        break;
    case Quantity::MotorSpeed:
        if (plan.motor.max_speed_rpm) lane.limits.push_back({*plan.motor.max_speed_rpm, say("motor's limit")});
        break;
    default:
        break;
    }
}

void addCutoff(Lane& lane, const ReviewData& data) {
    const LogReview& review = *data.review;
    if (!review.cutoffCell) return;
    for (std::size_t i = 0; i < review.sessions.size(); ++i) {
        if (!review.sessions[i].cells) continue;
        const Range span = data.spanOfSession(i);
        lane.bands.push_back({span.from, span.to, *review.cutoffCell * *review.sessions[i].cells,
                              say("cutoff %1 V a cell").arg(*review.cutoffCell, 0, 'f', 2)});
    }
}

// Named once, in the first lane that has one; dashes say the rest.
void addPredictions(Lane& lane, const UnitView& unit, Quantity quantity, const ReviewData& data, bool named) {
    for (const PlanLine& line : data.predicted) {
        if (line.quantity != quantity) continue;
        std::vector<double> shown;
        for (const double value : line.trace.value)
            shown.push_back(unit.shown(value));
        lane.traces.push_back({named ? say("planned") : QString(), data.spanOfPass(line.pass).from,
                               std::make_shared<const LaneCurve>(line.trace.time, std::move(shown))});
    }
}

constexpr std::size_t mostTraces = 8; // as many as there are colours
constexpr double after_s = 3.0;       // past a pass's end

// Standing still makes no line over distance.
void addTrace(ChartContent& content, const PassTrace& trace, ChartSeries series, const UnitView& unit,
              const UnitView* distance) {
    const std::vector<double>& places = distance == nullptr ? trace.time : trace.distance;
    if (places.size() != trace.value.size() || places.empty()) return;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double place = distance == nullptr ? places[i] : distance->shown(places[i]);
        if (!series.x.empty() && place <= series.x.back()) continue;
        series.x.push_back(place);
        series.y.push_back(unit.shown(trace.value[i]));
    }
    content.series.push_back(std::move(series));
}

} // namespace

QString sessionLabel(const ReviewData& data, std::size_t session, const Units& units) {
    const ReviewSession& s = data.review->sessions[session];
    QStringList parts{say("session %1").arg(session + 1)};
    if (s.cells) parts << (s.cellsSure ? say("%1 cells") : say("%1 cells?")).arg(*s.cells);
    if (const auto clock = clockText(*data.log, data.log->time[s.startRow])) parts << QString::fromStdString(*clock);
    if (s.restingVoltage) parts << units.text(Dimension::Voltage, s.restingVoltage, 1);
    return parts.join(QStringLiteral(" · "));
}

LanesContent lanesOf(const ReviewData& data, const Units& units, const std::vector<Quantity>& hidden) {
    LanesContent content;
    content.time = data.time;
    content.timeLabel = say("time in session");
    bool named = false;
    for (const LaneSource& source : data.columns) {
        if (std::find(hidden.begin(), hidden.end(), source.quantity) != hidden.end()) continue;
        const QuantityView view = viewOf(source.quantity, units);
        Lane lane;
        lane.title = view.brief;
        lane.unit = view.unit.symbol;
        lane.hue = view.hue;
        lane.column = source.column;
        lane.scale = view.unit.factor;
        lane.offset = view.unit.offset;
        lane.decimals = view.unit.decimals;
        lane.fromZero = view.fromZero;
        if (data.options.plan) addLimits(lane, view.unit, source.quantity, *data.options.plan);
        if (source.quantity == Quantity::PackVoltage) addCutoff(lane, data);
        addPredictions(lane, view.unit, source.quantity, data, !named);
        named = named || !lane.traces.empty();
        content.lanes.push_back(std::move(lane));
    }
    for (std::size_t i = 0; i < data.review->sessions.size(); ++i) {
        const Range span = data.spanOfSession(i);
        content.segments.push_back(
            {span.from, span.to, span.from, sessionLabel(data, i, units), data.review->sessions[i].logStart});
    }
    for (const Finding& finding : data.review->findings) {
        if (finding.id != "cutoff-acted") continue;
        const Range span = data.spanOfFinding(finding);
        content.spans.push_back({span.from, span.to, say("cutoff acted %1 s").arg(span.span(), 0, 'f', 1)});
    }
    return content;
}

std::vector<Quantity> overlayQuantities(const ReviewData& data) {
    std::vector<Quantity> quantities;
    for (const LaneSource& source : data.columns)
        quantities.push_back(source.quantity);
    const bool wheels = std::ranges::any_of(data.review->sessions, &ReviewSession::planFits) &&
                        (*data.log)[Quantity::MotorSpeed].present();
    if (wheels && std::ranges::find(quantities, Quantity::Speed) == quantities.end())
        quantities.insert(quantities.begin(), Quantity::Speed);
    return quantities;
}

ChartContent overlayOf(std::span<const OverlayPass> passes, const OverlayWish& wish, const Units& units) {
    ChartContent content;
    const QuantityView view = viewOf(wish.quantity, units);
    const UnitView distance = units.of(Dimension::Distance);
    const bool overTime = wish.axis == CompareAxis::Time;
    const UnitView* along = overTime ? nullptr : &distance;
    content.x = {.title = overTime ? say("from open throttle") : say("distance"),
                 .unit = overTime ? QStringLiteral("s") : distance.symbol,
                 .decimals = overTime ? 2 : 0};
    content.y = {
        .title = view.name, .unit = view.unit.symbol, .decimals = view.unit.decimals, .fromZero = view.fromZero};
    int colour = 0;
    for (const OverlayPass& one : passes.first(std::min(passes.size(), mostTraces))) {
        const PassTrace trace =
            passTrace(*one.data.log, *one.data.review, one.data.options, one.pass, wish.quantity, after_s);
        addTrace(content, trace, {.name = one.name, .hue = colour++}, view.unit, along);
    }
    if (passes.empty()) return content;
    if (content.series.empty()) {
        content.empty = say("The log tells no distance: lay the passes over time.");
        return content;
    }
    const ReviewData& first = passes.front().data;
    const ReviewPass& driven = first.review->passes[passes.front().pass];
    if (wish.planned && first.options.plan && first.review->sessions[driven.session].planFits)
        addTrace(content, planTrace(plannedPass(first.options.foretelling(), driven), wish.quantity),
                 {.name = passes.size() > 1 ? say("planned, %1").arg(passes.front().name) : say("planned"),
                  .muted = true,
                  .line = LineKind::Dashed},
                 view.unit, along);
    return content;
}

} // namespace rw
