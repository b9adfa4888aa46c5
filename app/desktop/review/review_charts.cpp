#include "app/desktop/review/review_charts.h"

#include "app/desktop/pages/page_document.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/review/pass_panel.h"
#include "app/desktop/review/review_units.h"
#include "core/log/time_text.h"
#include "core/review/compare.h"
#include "core/units.h"
#include "plotting/look.h"

#include <QApplication>
#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <array>
#include <limits>
#include <tuple>

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

namespace {

constexpr double sharpness = 2.5;                                 // pixels of the picture for one on the page
constexpr int laneHeight = 78, lanesHead = 72, chartHeight = 250; // logical pixels
constexpr double airBefore_s = 1.0, airAfter_s = 3.0;
constexpr double minute = 60.0;         // s
constexpr std::size_t heatPoints = 600; // across the page: more cannot be seen

// What tells most of a pass on paper; the screen has them all.
constexpr std::array paperLanes{
    Quantity::Speed,          Quantity::MotorSpeed,  Quantity::Throttle,         Quantity::Output,
    Quantity::PackVoltage,    Quantity::PackCurrent, Quantity::MotorTemperature, Quantity::ControllerTemperature,
    Quantity::PackTemperature};
constexpr std::array heatQuantities{Quantity::MotorTemperature, Quantity::ControllerTemperature,
                                    Quantity::PackTemperature};

QImage painted(const AxisView& view, QSize size) {
    QImage image((QSizeF(size) * sharpness).toSize(), QImage::Format_RGB32);
    image.fill(Look::light().ground);
    QPainter painter(&image);
    painter.scale(sharpness, sharpness);
    view.paintOn(painter, QRectF(QPointF(), size));
    return image;
}

ReviewPicture lanesPicture(const ReviewData& data, std::size_t pass, const Units& units) {
    std::vector<Quantity> hidden;
    for (const LaneSource& source : data.columns)
        if (std::ranges::find(paperLanes, source.quantity) == paperLanes.end()) hidden.push_back(source.quantity);
    LanesContent content = lanesOf(data, units, hidden);
    const int lanes = static_cast<int>(content.lanes.size());
    LanesView view;
    view.setContent(std::move(content));
    const Range span = data.spanOfPass(pass);
    view.link()->setBounds(data.span());
    view.link()->setRange({span.from - airBefore_s, span.to + airAfter_s});
    view.setFitToSeen(true);
    return {painted(view, {reviewPictureWidth, lanesHead + laneHeight * std::max(1, lanes)}),
            say("The best pass, %1: hatched under the cutoff, shaded where it took power, limits and plan dashed")
                .arg(say("pass %1").arg(pass + 1))};
}

std::optional<ReviewPicture> overlayPicture(const ReviewData& data, const Units& units) {
    std::vector<OverlayPass> passes;
    for (std::size_t pass = 0; pass < data.review->passes.size(); ++pass)
        passes.push_back({data, pass, say("pass %1").arg(pass + 1)});
    const std::vector<Quantity> quantities = overlayQuantities(data);
    if (passes.size() < 2 || quantities.empty()) return std::nullopt;
    Chart chart;
    chart.setContent(overlayOf(passes, {.quantity = quantities.front()}, units));
    return ReviewPicture{painted(chart, {reviewPictureWidth, chartHeight}),
                         say("Passes over each other, from open throttle")};
}

ChartSeries heatSeries(const ReviewData& data, const LaneSource& source, const QuantityView& view) {
    ChartSeries series{.name = view.brief, .hue = view.hue};
    const std::size_t rows = data.time->index.rows();
    const std::size_t step = std::max<std::size_t>(1, rows / heatPoints);
    std::size_t session = 0;
    for (std::size_t row = 0; row < rows; row += step) {
        while (session + 1 < data.review->sessions.size() && row >= data.review->sessions[session + 1].startRow) {
            ++session; // a gap between sessions is a gap in the line
            series.x.push_back(data.time->index[row] / minute);
            series.y.push_back(std::numeric_limits<double>::quiet_NaN());
        }
        const Extent extent = source.column->pyramid.extent(row, std::min(row + step, rows));
        series.x.push_back(data.time->index[row] / minute);
        series.y.push_back(extent.empty() ? std::numeric_limits<double>::quiet_NaN() : view.unit.shown(extent.high));
    }
    return series;
}

std::optional<ReviewPicture> heatPicture(const ReviewData& data, const Units& units) {
    ChartContent content;
    const QuantityView motor = viewOf(Quantity::MotorTemperature, units);
    content.x = {.title = say("time"), .unit = QStringLiteral("min"), .decimals = 1};
    content.y = {.title = say("temperatures"), .unit = motor.unit.symbol, .decimals = 0};
    for (const LaneSource& source : data.columns)
        if (std::ranges::find(heatQuantities, source.quantity) != heatQuantities.end())
            content.series.push_back(heatSeries(data, source, viewOf(source.quantity, units)));
    if (content.series.empty()) return std::nullopt;
    for (std::size_t pass = 0; pass < data.review->passes.size(); ++pass) {
        const Range span = data.spanOfPass(pass);
        content.regions.push_back(
            {.from = span.from / minute, .to = span.to / minute, .label = QString::number(pass + 1)});
    }
    const auto limit = [&](Quantity quantity, double celsius, const QString& name) {
        const auto same = [quantity](const LaneSource& source) { return source.quantity == quantity; };
        if (std::ranges::any_of(data.columns, same))
            content.limits.push_back({motor.unit.shown(kelvinFromCelsius(celsius)), name});
    };
    if (data.options.plan) {
        limit(Quantity::MotorTemperature, data.options.plan->motor.comfort_C, say("motor, comfort"));
        limit(Quantity::ControllerTemperature, data.options.plan->controller.comfort_C, say("controller, comfort"));
    }
    Chart chart;
    chart.setContent(std::move(content));
    return ReviewPicture{painted(chart, {reviewPictureWidth, chartHeight}), say("Temperatures of the day")};
}

} // namespace

std::optional<std::size_t> bestPassOf(const LogReview& review) {
    std::optional<std::size_t> best;
    const auto rank = [](const ReviewPass& pass) {
        return std::tuple(pass.complete, bestSpeed(pass).value_or(-1.0), pass.peakCurrent.value_or(-1.0));
    };
    for (std::size_t pass = 0; pass < review.passes.size(); ++pass)
        if (!best || rank(review.passes[pass]) > rank(review.passes[*best])) best = pass;
    return best;
}

std::vector<ReviewPicture> reviewPictures(const ReviewData& data, const Units& units) {
    std::vector<ReviewPicture> pictures;
    const auto best = bestPassOf(*data.review);
    if (!best) return pictures;
    pictures.push_back(lanesPicture(data, *best, units));
    if (auto overlay = overlayPicture(data, units)) pictures.push_back(std::move(*overlay));
    if (auto heat = heatPicture(data, units)) pictures.push_back(std::move(*heat));
    return pictures;
}

int printReview(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    const Units units;
    std::vector<ReviewData> read;
    for (const QString& file : QStringList(arguments.value) + arguments.files) {
        LogSource source;
        source.path = file.toStdString();
        read.push_back(readReview(source, {}, {}, [](double) {}));
    }
    std::vector<ReviewedLog> logs;
    logs.reserve(read.size());
    for (const ReviewData& data : read)
        logs.push_back({*data.log, *data.review, reviewPictures(data, units)});
    makeReviewPage(logs, units).writeTo(arguments.to, usualPaper(), false);
    return written(arguments.to);
}

} // namespace rw
