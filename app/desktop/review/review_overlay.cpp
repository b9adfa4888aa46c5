#include "app/desktop/review/review_overlay.h"

#include "app/desktop/review/review_units.h"
#include "core/review/planned_pass.h"

#include <QCoreApplication>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t mostTraces = 8; // as many as there are colours
constexpr double after_s = 3.0;       // past a pass's end

QString say(const char* text) { return QCoreApplication::translate("ReviewOverlay", text); }

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
