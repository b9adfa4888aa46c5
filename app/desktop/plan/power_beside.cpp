#include "app/desktop/plan/power_beside.h"

#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double lowest = -30.0, headroom = 14.0; // %: what breaks a limit by far would press the rest together

QString tr(const char* text) { return QCoreApplication::translate("PowerPicture", text); }

ChartSeries points(LineKind line) {
    return {.hue = Hue::Speed, .line = line, .point = PointKind::Disc, .freeForm = true};
}

} // namespace

bool sameParts(const PlanInput& a, const PlanInput& b) {
    return a.motor == b.motor && a.controller == b.controller && a.pack == b.pack &&
           a.gears.pinion_teeth == b.gears.pinion_teeth && a.gears.spur_teeth == b.gears.spur_teeth;
}

PowerCard::PowerCard() {
    head_ = paragraph({}, Type::Strong);
    words_ = paragraph({}, Type::Small);
    put_ = tagged(button(tr("Put it on the bench"), this, &PowerCard::putWanted), "powerBench");
    lay(*columnIn(this, gridStep / 2, {gridStep + 4, gridStep + 4, gridStep + 4, gridStep + 4}),
        {head_, words_, gap(gridStep / 2), Piece(put_, 0, Qt::AlignLeft)});
}

void PowerCard::show(const ChooseRow* row, const QString& name, const PlanSession& session) {
    const bool empty = session.empty();
    put_->setVisible(row != nullptr);
    put_->setEnabled(row && !empty && !sameParts(row->plan, session.input()));
    head_->setText(row ? tr("Picked: %1").arg(name) : tr("Nothing picked"));
    const auto outcome = session.outcome();
    if (!row || empty || !outcome || outcome->result.margins.empty()) {
        words_->setText(row ? QString() : tr("Pick a row to see what it would change."));
        return;
    }
    const Units& units = session.units();
    const PassResult& now = outcome->result.passes.front();
    const Margin& was = outcome->result.margins.front();
    QStringList words{tr("%1 %2; was %3 %4.")
                          .arg(limitTitle(row->tightest.limit), limitTexts(row->tightest, units).left,
                               limitTitle(was.limit), limitTexts(was, units).left),
                      tr("Zone %1 → %2, pack %3 → %4, motor %5 → %6.")
                          .arg(units.figure(Dimension::Speed, now.zoneMean, 1),
                               units.text(Dimension::Speed, row->zoneMean, 1),
                               units.figure(Dimension::Current, now.peakPackCurrent, 0),
                               units.text(Dimension::Current, row->peakPackCurrent, 0),
                               units.figure(Dimension::Temperature, now.caseSoakPeak, 0),
                               units.text(Dimension::Temperature, row->caseSoakPeak, 0))};
    const double gained = row->plan.vehicle.mass_kg - session.input().vehicle.mass_kg;
    if (gained != 0.0)
        words << (gained > 0.0 ? tr("The car gains %1.") : tr("The car loses %1."))
                     .arg(units.text(Dimension::Mass, std::abs(gained), 2));
    for (const std::string& note : row->notes)
        words << QString::fromStdString(note);
    words_->setText(words.join(QLatin1Char(' ')));
}

QString PowerCard::text() const { return head_->text() + QLatin1Char('\n') + words_->text(); }

void PowerCard::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    fillRounded(painter, rect(), 4.0, Look::of(this).wash);
}

PowerPicture powerPicture(const ChooseResult& result, const std::function<QString(const ChooseRow&)>& name,
                          const PlanInput& bench, const ChooseRow* picked, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    const std::vector<ChooseRow>& rows = result.rows;
    PowerPicture out;
    ChartContent& content = out.content;
    content.x = {.title = tr("zone speed"), .unit = speed.symbol, .decimals = 1};
    content.y = {.title = tr("left of the tightest limit"), .unit = QStringLiteral("%"), .decimals = 0};
    ChartSeries all = points(LineKind::None), efficient = points(LineKind::Solid);
    all.muted = true;
    out.rows.assign(2, {});
    const auto add = [&](ChartSeries& series, std::vector<std::size_t>& places, std::size_t index) {
        series.add(speed.shown(*rows[index].zoneMean), rows[index].tightest.margin * 100.0, name(rows[index]));
        places.push_back(index);
    };
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (rows[i].zoneMean) add(all, out.rows[0], i);
    std::vector<std::size_t> joined = result.efficient;
    std::ranges::sort(joined, {}, [&](std::size_t index) { return *rows[index].zoneMean; });
    for (const std::size_t index : joined)
        add(efficient, out.rows[1], index);
    if (!all.y.empty()) {
        const auto [least, most] = std::ranges::minmax(all.y);
        content.y.range = Range{std::max(lowest, least - headroom), std::max(0.0, most) + headroom};
    }
    const auto ring = [&](const ChooseRow& row, const char* label) {
        content.markers.push_back(
            {.x = speed.shown(*row.zoneMean), .y = row.tightest.margin * 100.0, .label = tr(label)});
    };
    const auto own =
        std::ranges::find_if(rows, [&](const ChooseRow& row) { return row.zoneMean && sameParts(row.plan, bench); });
    if (own != rows.end()) ring(*own, QT_TRANSLATE_NOOP("PowerPicture", "on the bench"));
    if (picked && picked->zoneMean && !sameParts(picked->plan, bench))
        ring(*picked, QT_TRANSLATE_NOOP("PowerPicture", "picked"));
    content.limits.push_back({.value = 0.0, .label = tr("over a limit below"), .broken = true});
    content.series = {std::move(all), std::move(efficient)};
    if (const auto target = bench.drive.target_mps; target && content.y.range) {
        const double at = speed.shown(*target);
        content.series.push_back({.name = tr("target %1").arg(figure(at, 0)),
                                  .x = {at, at},
                                  .y = {content.y.range->from, content.y.range->to},
                                  .muted = true,
                                  .line = LineKind::Dotted,
                                  .freeForm = true,
                                  .nameIfRoom = true});
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
