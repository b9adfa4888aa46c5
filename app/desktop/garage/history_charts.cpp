#include "app/desktop/garage/history_charts.h"

#include "app/desktop/shared/garage_text.h"

#include <QCoreApplication>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace rw {

namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr double day = 86400.0; // s
constexpr double milli = 1e3;
constexpr double infinityValue = std::numeric_limits<double>::infinity();

QString words(const char* text) { return QCoreApplication::translate("garage", text); }

QString passCount(std::size_t count) {
    return counted(count, QCoreApplication::translate("garage", "pass"),
                   QCoreApplication::translate("garage", "passes"));
}

} // namespace

HistoryChart vehicleChart(const std::vector<TimeLineEntry>& line, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = {}, .unit = {}, .kind = ChartAxis::Kind::Date};
    content.y = {.title = words(QT_TRANSLATE_NOOP("garage", "speed of each pass")),
                 .unit = speed.symbol,
                 .decimals = speed.decimals};
    content.empty =
        words(QT_TRANSLATE_NOOP("garage", "No pass yet. Drop a log on the window and attach it to a setup."));
    ChartSeries passes{.name = {}, .x = {}, .y = {}, .hue = Hue::Speed};
    passes.line = LineKind::None;
    passes.point = PointKind::Disc;
    passes.freeForm = true;
    std::map<int, double> firstOf; // revision -> first pass
    double last = 0.0;
    for (const TimeLineEntry& entry : line) {
        const auto when = secondsOf(entry.when);
        if (!when || entry.id.kind != ItemKind::Pass || !entry.speed) continue;
        // Passes of one day stand beside each other, not on each other.
        const double x = passes.x.empty() || *when > last ? *when : last + day / 200.0;
        last = x;
        passes.x.push_back(x);
        passes.y.push_back(speed.shown(entry.speed->mps));
        chart.passes.push_back(entry.id);
        passes.notes.push_back(QCoreApplication::translate("garage", "%1 · revision %2 · %3")
                                   .arg(dateText(entry.when))
                                   .arg(entry.revision)
                                   .arg(fromUtf8(speedKindName(entry.speed->kind))));
        if (entry.revision > 0) firstOf.try_emplace(entry.revision, x);
    }
    std::vector<std::pair<double, int>> starts;
    starts.reserve(firstOf.size());
    for (const auto& [revision, x] : firstOf)
        starts.emplace_back(x, revision);
    std::sort(starts.begin(), starts.end());
    for (std::size_t i = 0; i < starts.size(); i += 2) { // every second one is shaded
        const double to = i + 1 < starts.size() ? starts[i + 1].first : last + day;
        content.regions.push_back({.from = starts[i].first - day / 2,
                                   .to = to - day / 2,
                                   .label = words(QT_TRANSLATE_NOOP("garage", "rev. %1")).arg(starts[i].second)});
    }
    if (!passes.x.empty()) content.series.push_back(std::move(passes));
    return chart;
}

HistoryChart packChart(const std::vector<PackPoint>& points, const Units&) {
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = words(QT_TRANSLATE_NOOP("garage", "passes carried")), .unit = {}, .decimals = 0};
    content.y = {
        .title = words(QT_TRANSLATE_NOOP("garage", "pack resistance")), .unit = QStringLiteral("mΩ"), .decimals = 1};
    content.empty = words(QT_TRANSLATE_NOOP("garage", "No pass has told this pack's resistance yet."));
    ChartSeries series{.name = {}, .x = {}, .y = {}, .hue = Hue::Voltage};
    series.line = LineKind::None;
    series.point = PointKind::Disc;
    for (const PackPoint& point : points) {
        if (!point.ohm) continue;
        series.x.push_back(point.carried);
        series.y.push_back(*point.ohm * milli);
        chart.passes.push_back(point.pass);
        series.uncertainty.push_back(point.ohmSe ? *point.ohmSe * milli : missing);
        series.notes.push_back(dateText(point.when));
    }
    if (!series.x.empty()) content.series.push_back(std::move(series));
    return chart;
}

HistoryChart motorChart(const std::vector<MotorPoint>& points, const Units& units) {
    const UnitView heat = units.of(Dimension::Temperature);
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = {}, .unit = {}, .kind = ChartAxis::Kind::Date};
    content.y = {.title = words(QT_TRANSLATE_NOOP("garage", "hottest in each pass")),
                 .unit = heat.symbol,
                 .decimals = heat.decimals};
    content.empty = words(QT_TRANSLATE_NOOP("garage", "No pass has told this motor's temperature yet."));
    ChartSeries series{.name = {}, .x = {}, .y = {}, .hue = Hue::MotorHeat};
    series.line = LineKind::None;
    series.point = PointKind::Square;
    series.freeForm = true;
    double last = 0.0;
    for (const MotorPoint& point : points) {
        const auto when = secondsOf(point.when);
        if (!when || !point.max_C) continue;
        const double x = series.x.empty() || *when > last ? *when : last + day / 200.0;
        last = x;
        series.x.push_back(x);
        series.y.push_back(heat.shown(*point.max_C));
        chart.passes.push_back(point.pass);
        series.notes.push_back(dateText(point.when));
    }
    if (!series.x.empty()) content.series.push_back(std::move(series));
    return chart;
}

QString packSentence(const std::vector<PackPoint>& points) {
    std::vector<double> ohms;
    double charge = 0.0;
    for (const PackPoint& point : points) {
        if (point.ohm) ohms.push_back(*point.ohm);
        charge += point.charge_Ah.value_or(0.0);
    }
    if (points.empty()) return words(QT_TRANSLATE_NOOP("garage", "It has carried no pass yet."));
    QString text = QCoreApplication::translate("garage", "Carried %1").arg(passCount(points.size())) +
                   QCoreApplication::translate("garage", " and gave %1 Ah.").arg(charge, 0, 'f', 1);
    constexpr std::size_t enough = 6;
    if (ohms.size() >= enough) {
        const std::size_t third = ohms.size() / 3;
        const auto median = [](std::vector<double> part) {
            std::nth_element(part.begin(), part.begin() + static_cast<std::ptrdiff_t>(part.size() / 2), part.end());
            return part[part.size() / 2];
        };
        const double was = median({ohms.begin(), ohms.begin() + static_cast<std::ptrdiff_t>(third)});
        const double is = median({ohms.end() - static_cast<std::ptrdiff_t>(third), ohms.end()});
        text += QCoreApplication::translate("garage", " Resistance %1 mΩ at first, %2 mΩ lately (%3 %). "
                                                      "Over 20 % at like temperature, think of retiring it.")
                    .arg(was * milli, 0, 'f', 1)
                    .arg(is * milli, 0, 'f', 1)
                    .arg((is / was - 1.0) * 100.0, 0, 'f', 0);
    }
    return text;
}

QString motorSentence(const std::vector<MotorPoint>& points, const Units& units) {
    double hottest = -infinityValue;
    for (const MotorPoint& point : points)
        if (point.max_C) hottest = std::max(hottest, *point.max_C);
    QString text = QCoreApplication::translate("garage", "It has driven %1.").arg(passCount(points.size()));
    if (hottest > -infinityValue)
        text += QCoreApplication::translate("garage", " Hottest ever: %1.")
                    .arg(units.text(Dimension::Temperature, hottest));
    return text;
}

} // namespace rw
