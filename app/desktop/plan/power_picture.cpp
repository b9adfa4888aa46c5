#include "app/desktop/plan/power_picture.h"

#include "app/desktop/plan/power_card.h"

#include <QCoreApplication>

#include <algorithm>

namespace rw {

namespace {

constexpr double lowest = -30.0, headroom = 14.0; // %: what breaks a limit by far would press the rest together

QString words(const char* text) { return QCoreApplication::translate("PowerPicture", text); }

ChartSeries points(LineKind line) {
    ChartSeries out;
    out.hue = Hue::Speed;
    out.line = line;
    out.point = PointKind::Disc;
    out.freeForm = true;
    return out;
}

} // namespace

PowerPicture powerPicture(const ChooseResult& result, const std::function<QString(const ChooseRow&)>& name,
                          const PlanInput& bench, const ChooseRow* picked, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    const std::vector<ChooseRow>& rows = result.rows;
    PowerPicture out;
    ChartContent& content = out.content;
    content.x = {.title = words(QT_TRANSLATE_NOOP("PowerPicture", "zone speed")), .unit = speed.symbol, .decimals = 1};
    content.y = {.title = words(QT_TRANSLATE_NOOP("PowerPicture", "left of the tightest limit")),
                 .unit = QStringLiteral("%"),
                 .decimals = 0};
    ChartSeries all = points(LineKind::None), efficient = points(LineKind::Solid);
    all.muted = true;
    out.rows.assign(2, {});
    const auto add = [&](ChartSeries& series, std::vector<std::size_t>& places, std::size_t index) {
        series.x.push_back(speed.shown(*rows[index].zoneMean));
        series.y.push_back(rows[index].tightest.margin * 100.0);
        series.notes.push_back(name(rows[index]));
        places.push_back(index);
    };
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (rows[i].zoneMean) add(all, out.rows[0], i);
    std::vector<std::size_t> joined = result.efficient;
    std::sort(joined.begin(), joined.end(),
              [&](std::size_t a, std::size_t b) { return *rows[a].zoneMean < *rows[b].zoneMean; });
    for (const std::size_t index : joined)
        add(efficient, out.rows[1], index);
    if (!all.y.empty()) {
        const auto [least, most] = std::minmax_element(all.y.begin(), all.y.end());
        content.y.range = Range{std::max(lowest, *least - headroom), std::max(0.0, *most) + headroom};
    }
    const auto ring = [&](const ChooseRow& row, const char* label) {
        content.markers.push_back(
            {.x = speed.shown(*row.zoneMean), .y = row.tightest.margin * 100.0, .label = words(label)});
    };
    const auto own = std::find_if(rows.begin(), rows.end(),
                                  [&](const ChooseRow& row) { return row.zoneMean && sameParts(row.plan, bench); });
    if (own != rows.end()) ring(*own, QT_TRANSLATE_NOOP("PowerPicture", "on the bench"));
    if (picked && picked->zoneMean && !sameParts(picked->plan, bench))
        ring(*picked, QT_TRANSLATE_NOOP("PowerPicture", "picked"));
    content.limits.push_back(
        {.value = 0.0, .label = words(QT_TRANSLATE_NOOP("PowerPicture", "over a limit below")), .broken = true});
    content.series = {std::move(all), std::move(efficient)};
    if (const auto target = bench.drive.target_mps; target && content.y.range) {
        ChartSeries line;
        line.name = words(QT_TRANSLATE_NOOP("PowerPicture", "target %1")).arg(figure(speed.shown(*target), 0));
        line.x = {speed.shown(*target), speed.shown(*target)};
        line.y = {content.y.range->from, content.y.range->to};
        line.muted = line.freeForm = line.nameIfRoom = true;
        line.line = LineKind::Dotted;
        content.series.push_back(std::move(line));
    }
    QStringList named; // each unbeaten one by its name, where there is room
    for (const std::size_t index : joined) {
        if (named.contains(name(rows[index])) || sameParts(rows[index].plan, bench) || &rows[index] == picked) continue;
        named << name(rows[index]);
        ChartSeries one = points(LineKind::None);
        one.name = named.back();
        one.x = {speed.shown(*rows[index].zoneMean)}, one.y = {rows[index].tightest.margin * 100.0};
        one.nameIfRoom = true;
        content.series.push_back(std::move(one));
    }
    return out;
}

} // namespace rw
