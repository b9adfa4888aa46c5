#include "app/desktop/garage/part_history.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QCoreApplication>

#include <algorithm>
#include <limits>
#include <map>

namespace rw {

namespace {

constexpr int mostPasses = 30; // what a page shows; all of them are in the CSV

QString openHelp() { return KeptList::tr("Double click or Enter opens it in Review"); }

constexpr double day = 86400.0; // s
constexpr double milli = 1e3;

QString tr(const char* text) { return QCoreApplication::translate("garage", text); }

ChartSeries points(Hue hue, PointKind kind) {
    return {.name = {}, .hue = hue, .line = LineKind::None, .point = kind, .freeForm = true};
}

// Passes of one day stand beside each other, not on each other.
double beside(const ChartSeries& line, double when) {
    return line.x.empty() || when > line.x.back() ? when : line.x.back() + day / 200.0;
}

QString passCount(std::size_t count) { return counted(count, tr("pass"), tr("passes")); }

} // namespace

PassFilter passesOf(std::optional<Id> id) {
    PassFilter filter;
    if (!id) return filter;
    if (id->kind == ItemKind::Vehicle) filter.vehicle = *id;
    if (id->kind == ItemKind::Pack) filter.pack = *id;
    if (id->kind == ItemKind::Motor) filter.motor = *id;
    return filter;
}

KeptList::KeptList(const Desk& desk)
    : desk_(desk)
    , heading_(new TextLabel(QString(), Type::Heading))
    , table_(new ValueTable(2, {})) {
    lay(*columnIn(this, gridStep), {heading_, table_});
    connect(table_, &FigureTable::rowActivated, this, [this](int row) {
        if (const Id* id = atRow(ids_, row)) emit openWanted(*id);
    });
}

void KeptList::fill(const QString& heading, const QStringList& header, ValueRows rows) {
    heading_->setText(heading);
    table_->setAccessibleName(heading);
    setVisible(!rows.empty());
    table_->setRows(header, std::move(rows));
    fitToRows(*table_, 1);
}

void KeptList::showLogs(Garage& garage, Id outing) {
    ids_.clear();
    ValueRows rows;
    for (const StoredLog& log : garage.logs(outing)) {
        ids_.push_back(log.id);
        QString setup;
        if (log.setup) {
            const Setup ran = garage.setup(*log.setup);
            setup = tr("%1, revision %2").arg(QString::fromStdString(ran.name)).arg(ran.revision);
        }
        if (!log.notes.empty())
            setup += (setup.isEmpty() ? QString() : QStringLiteral(" · ")) + QString::fromStdString(log.notes);
        rows.push_back({{QString::fromStdString(log.name), {}, Tone::Ink, true, openHelp()},
                        {setup, {}, Tone::Soft, false, openHelp()},
                        {QString::number(log.sessions), log.sessions},
                        {QString::number(log.passes), log.passes}});
    }
    fill(tr("Logs"), {tr("log"), tr("ran with"), tr("sessions"), tr("passes")}, std::move(rows));
}

void KeptList::showPasses(Garage& garage, PassFilter filter) {
    filter.order = PassFilter::Order::Newest;
    filter.limit = mostPasses;
    ids_.clear();
    std::map<Id, std::string> names; // of the logs
    ValueRows rows;
    for (const StoredPass& pass : garage.passes(filter)) {
        ids_.push_back(pass.id);
        if (!names.contains(pass.log)) names[pass.log] = garage.log(pass.log).name;
        const auto speed = bestSpeed(pass);
        const auto shown = speed ? std::optional(speed->mps) : std::nullopt;
        rows.push_back({{dateText(pass.when), {}, Tone::Ink, true, openHelp()},
                        {tr("%1, pass %2").arg(QString::fromStdString(names[pass.log])).arg(pass.index + 1), QVariant(),
                         Tone::Soft, false, openHelp()},
                        {desk_.units.figure(Dimension::Speed, shown), rawOf(shown)},
                        {desk_.units.figure(Dimension::Current, pass.peakCurrent_A), rawOf(pass.peakCurrent_A)},
                        {desk_.units.figure(Dimension::Temperature, pass.motorMax_C), rawOf(pass.motorMax_C)}});
    }
    fill(tr("Passes, newest first"),
         {tr("when"), tr("log"), desk_.units.symbol(Dimension::Speed), QStringLiteral("A"),
          tr("motor %1").arg(desk_.units.symbol(Dimension::Temperature))},
         std::move(rows));
}

HistoryChart vehicleChart(const std::vector<TimeLineEntry>& line, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = {}, .unit = {}, .kind = ChartAxis::Kind::Date};
    content.y = {.title = tr("speed of each pass"), .unit = speed.symbol, .decimals = speed.decimals};
    content.empty = tr("No pass yet. Drop a log on the window and attach it to a setup.");
    ChartSeries passes = points(Hue::Speed, PointKind::Disc);
    std::map<int, double> firstOf; // revision -> first pass
    for (const TimeLineEntry& entry : line) {
        const auto when = secondsOf(entry.when);
        if (!when || entry.id.kind != ItemKind::Pass || !entry.speed) continue;
        passes.add(beside(passes, *when), speed.shown(entry.speed->mps),
                   tr("%1 · revision %2 · %3")
                       .arg(dateText(entry.when))
                       .arg(entry.revision)
                       .arg(QString::fromUtf8(speedKindName(entry.speed->kind))));
        chart.passes.push_back(entry.id);
        if (entry.revision > 0) firstOf.try_emplace(entry.revision, passes.x.back());
    }
    std::vector<std::pair<double, int>> starts;
    starts.reserve(firstOf.size());
    for (const auto& [revision, x] : firstOf)
        starts.emplace_back(x, revision);
    std::sort(starts.begin(), starts.end());
    for (std::size_t i = 0; i < starts.size(); i += 2) { // every second one is shaded
        const double to = i + 1 < starts.size() ? starts[i + 1].first : passes.x.back() + day;
        content.regions.push_back(
            {.from = starts[i].first - day / 2, .to = to - day / 2, .label = tr("rev. %1").arg(starts[i].second)});
    }
    if (!passes.x.empty()) content.series.push_back(std::move(passes));
    return chart;
}

HistoryChart packChart(const std::vector<PackPoint>& points, const Units&) {
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = tr("passes carried"), .unit = {}, .decimals = 0};
    content.y = {.title = tr("pack resistance"), .unit = QStringLiteral("mΩ"), .decimals = 1};
    content.empty = tr("No pass has told this pack's resistance yet.");
    ChartSeries series = rw::points(Hue::Voltage, PointKind::Disc);
    series.freeForm = false;
    for (const PackPoint& point : points) {
        if (!point.ohm) continue;
        series.add(point.carried, *point.ohm * milli, dateText(point.when));
        series.uncertainty.push_back(point.ohmSe ? *point.ohmSe * milli : std::numeric_limits<double>::quiet_NaN());
        chart.passes.push_back(point.pass);
    }
    if (!series.x.empty()) content.series.push_back(std::move(series));
    return chart;
}

HistoryChart motorChart(const std::vector<MotorPoint>& points, const Units& units) {
    const UnitView heat = units.of(Dimension::Temperature);
    HistoryChart chart;
    ChartContent& content = chart.content;
    content.x = {.title = {}, .unit = {}, .kind = ChartAxis::Kind::Date};
    content.y = {.title = tr("hottest in each pass"), .unit = heat.symbol, .decimals = heat.decimals};
    content.empty = tr("No pass has told this motor's temperature yet.");
    ChartSeries series = rw::points(Hue::MotorHeat, PointKind::Square);
    for (const MotorPoint& point : points) {
        const auto when = secondsOf(point.when);
        if (!when || !point.max_C) continue;
        series.add(beside(series, *when), heat.shown(*point.max_C), dateText(point.when));
        chart.passes.push_back(point.pass);
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
    if (points.empty()) return tr("It has carried no pass yet.");
    QString text = tr("Carried %1").arg(passCount(points.size())) + tr(" and gave %1 Ah.").arg(charge, 0, 'f', 1);
    constexpr std::size_t enough = 6;
    if (ohms.size() >= enough) {
        const std::size_t third = ohms.size() / 3;
        const auto median = [](std::vector<double> part) {
            std::nth_element(part.begin(), part.begin() + static_cast<std::ptrdiff_t>(part.size() / 2), part.end());
            return part[part.size() / 2];
        };
        const double was = median({ohms.begin(), ohms.begin() + static_cast<std::ptrdiff_t>(third)});
        const double is = median({ohms.end() - static_cast<std::ptrdiff_t>(third), ohms.end()});
        text += tr(" Resistance %1 mΩ at first, %2 mΩ lately (%3 %). "
                   "Over 20 % at like temperature, think of retiring it.")
                    .arg(was * milli, 0, 'f', 1)
                    .arg(is * milli, 0, 'f', 1)
                    .arg((is / was - 1.0) * 100.0, 0, 'f', 0);
    }
    return text;
}

QString motorSentence(const std::vector<MotorPoint>& points, const Units& units) {
    std::optional<double> hottest;
    for (const MotorPoint& point : points)
        hottest = std::max(hottest, point.max_C);
    QString text = tr("It has driven %1.").arg(passCount(points.size()));
    if (hottest) text += tr(" Hottest ever: %1.").arg(units.text(Dimension::Temperature, hottest));
    return text;
}

} // namespace rw
