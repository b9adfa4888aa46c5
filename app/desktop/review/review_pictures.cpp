#include "app/desktop/review/review_pictures.h"

#include "app/desktop/pages/page_document.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/review/pass_panel.h"
#include "app/desktop/review/review_charts.h"
#include "app/desktop/review/review_units.h"
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

constexpr double sharpness = 2.5;                                 // pixels of the picture for one on the page
constexpr int laneHeight = 78, lanesHead = 72, chartHeight = 250; // logical pixels
constexpr double airBefore_s = 1.0, airAfter_s = 3.0;
constexpr double minute = 60.0;         // s
constexpr std::size_t heatPoints = 600; // across the page: more cannot be seen

QString say(const char* text) { return QCoreApplication::translate("ReviewPictures", text); }

// What tells most of a pass on paper; the screen has them all.
constexpr std::array paperLanes{
    Quantity::Speed,          Quantity::MotorSpeed,  Quantity::Throttle,         Quantity::Output,
    Quantity::PackVoltage,    Quantity::PackCurrent, Quantity::MotorTemperature, Quantity::ControllerTemperature,
    Quantity::PackTemperature};
constexpr std::array heatQuantities{Quantity::MotorTemperature, Quantity::ControllerTemperature,
                                    Quantity::PackTemperature};

template<class Widget>
QImage painted(const Widget& widget, QSize size) {
    QImage image((QSizeF(size) * sharpness).toSize(), QImage::Format_RGB32);
    image.fill(Look::light().ground);
    QPainter painter(&image);
    painter.scale(sharpness, sharpness);
    widget.paintOn(painter, QRectF(QPointF(), size));
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
