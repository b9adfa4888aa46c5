#include "app/desktop/plan/gear_panel.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/chart.h"

#include <QComboBox>
#include <QToolButton>

#include <algorithm>
#include <utility>

namespace rw {

namespace {

constexpr int roomForBoth = 90 * gridStep; // wider than this, table and picture stand side by side

QString pairText(const GearRow& row) { return rw::pairText(row.pinion, row.spur); }

QString pairsText(const GearTable* table) {
    if (!table || table->rows.empty()) return GearPanel::tr("No pair at hand fits the mount.");
    const auto count = [table](bool GearRow::*what) {
        return std::count_if(table->rows.begin(), table->rows.end(), [what](const GearRow& row) { return row.*what; });
    };
    QString fit = GearPanel::tr("%1 pairs fit the mount").arg(table->rows.size());
    const auto making = count(&GearRow::makesTarget);
    if (making == 0) return fit;
    return fit + GearPanel::tr(", %1 make the target (✓)").arg(making);
}

QString tightestText(const GearRow& row) {
    if (!row.zoneMean) return GearPanel::tr("not completed");
    return limitLeft(row.tightest.limit, row.tightest.margin);
}

QString gearHelp(const GearRow& row) {
    if (!row.withinLimits) return limitAdvice(row.tightest.limit);
    const QString fits = GearPanel::tr("A click or Enter fits this pair; Ctrl+Z takes it back.");
    return row.makesTarget ? GearPanel::tr("Makes the target.") + u' ' + fits : fits;
}

} // namespace

void GearTableModel::show(const GearTable* table, int pinion, int spur, const Units& units) {
    fitted_ = -1;
    ValueRows rows;
    for (const GearRow& row : table ? table->rows : std::vector<GearRow>{}) {
        const bool fitted = row.pinion == pinion && row.spur == spur;
        if (fitted) fitted_ = static_cast<int>(rows.size());
        const auto cell = [&, help = gearHelp(row)](const QString& text, const QVariant& raw) {
            return ValueCell{text, raw, Tone::Ink, fitted, help};
        };
        const QString mark = row.makesTarget ? QStringLiteral("✓ ") : QString();
        rows.push_back({cell(pairText(row), row.pinion), cell(figure(row.overallRatio, 2), row.overallRatio),
                        cell(mark + units.figure(Dimension::Speed, row.zoneMean), rawOf(row.zoneMean)),
                        cell(figure(row.peakPackCurrent, 0), row.peakPackCurrent),
                        cell(units.figure(Dimension::Temperature, row.caseSoakPeak), row.caseSoakPeak),
                        cell(tightestText(row), row.tightest.margin)});
    }
    setRows({tr("pair"), tr("ratio"), tr("zone %1").arg(units.symbol(Dimension::Speed)), tr("peak A"),
             tr("motor %1").arg(units.symbol(Dimension::Temperature)), tr("tightest")},
            std::move(rows));
}

GearPanel::GearPanel(PlanSession& session)
    : session_(session)
    , model_(new GearTableModel(this))
    , worker_(
          this, session,
          [](const PlanInput& input, std::stop_token stop) {
              return sweepGears(input, GearRank::Fastest, {.stop = std::move(stop), .progress = {}, .threads = 0});
          },
          [this] { rank(static_cast<GearRank>(rank_->currentIndex())); }) {
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    rank_ = named(new QComboBox, tr("Rank gear pairs by"));
    rank_->addItems(
        {tr("fastest within limits"), tr("least current for the target"), tr("shortest run to the target")});
    rank_->setFont(rw::font(Type::Small));
    pictureButton_ = smallButton(tr("Picture"), tr("Speed against current of every pair, the efficient ones joined"));
    pictureButton_->setCheckable(true);
    table_ = new FigureTable(model_, tr("Gear table"));
    chart_ = named(new Chart, tr("Speed against current of every gear pair"));
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}),
        {laid(rowOf(gridStep), {grow(note_), rank_, pictureButton_}),
         grow(laid(rowOf(3 * gridStep), {grow(table_), grow(chart_)}))});
    connect(&session_.desk().units, &Units::changed, this, &GearPanel::draw);
    connect(rank_, &QComboBox::currentIndexChanged, this, [this](int index) { rank(static_cast<GearRank>(index)); });
    connect(table_, &FigureTable::rowActivated, this, &GearPanel::fit);
    connect(table_, &FigureTable::clicked, this, [this](const QModelIndex& index) { fit(index.row()); });
    connect(pictureButton_, &QToolButton::toggled, this, &GearPanel::arrange);
    connect(chart_, &Chart::pointClicked, this, [this](int, int index) { table_->selectRow(index); });
    arrange();
}

void GearPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    arrange();
}

void GearPanel::arrange() {
    const bool both = width() >= roomForBoth;
    pictureButton_->setVisible(!both);
    table_->setVisible(both || !pictureButton_->isChecked());
    chart_->setVisible(both || pictureButton_->isChecked());
}

// Another order of the same rows; the efficient ones are found anew.
void GearPanel::rank(GearRank order) {
    if (const auto table = worker_.result()) {
        auto ordered = std::make_shared<GearTable>(*table);
        rankGears(*ordered, order);
        worker_.setResult(std::move(ordered));
    }
    draw();
}

void GearPanel::draw() {
    const auto table = worker_.result();
    const PlanInput in = session_.empty() ? PlanInput{} : session_.input();
    model_->show(table.get(), in.gears.pinion_teeth, in.gears.spur_teeth, session_.units());
    if (const int row = model_->fittedRow(); row >= 0) {
        table_->selectRow(row);
        table_->scrollTo(model_->index(row, 0));
    }
    note_->setText(pairsText(table.get()));
    drawTradeOff();
}

void GearPanel::drawTradeOff() {
    const auto table = worker_.result();
    const UnitView speed = session_.units().of(Dimension::Speed);
    ChartContent content;
    content.x = {.title = tr("peak pack current"), .unit = QStringLiteral("A"), .decimals = 0};
    content.y = {.title = tr("zone speed"), .unit = speed.symbol, .decimals = 1};
    if (!table || table->rows.empty()) {
        content.empty = tr("No gear pair to compare: list your pinions and spurs under Gearing.");
        return chart_->setContent(std::move(content));
    }
    const auto points = [](const QString& name, PointKind kind) {
        return ChartSeries{.name = name, .hue = Hue::Speed, .line = LineKind::None, .point = kind, .freeForm = true};
    };
    ChartSeries makes = points(tr("makes the target"), PointKind::Disc), within = points({}, PointKind::Ring),
                broken = points(tr("over a limit"), PointKind::Cross);
    broken.muted = true;
    ChartSeries efficient{.name = tr("efficient"), .hue = Hue::Speed, .line = LineKind::Solid, .freeForm = true};
    for (const GearRow& row : table->rows) {
        if (!row.zoneMean) continue;
        ChartSeries& series = !row.withinLimits ? broken : row.makesTarget ? makes : within;
        series.add(row.peakPackCurrent, speed.shown(*row.zoneMean), pairText(row));
        if (row.pinion == session_.input().gears.pinion_teeth && row.spur == session_.input().gears.spur_teeth)
            content.markers.push_back({.x = series.x.back(), .y = series.y.back(), .label = pairText(row)});
    }
    std::vector<const GearRow*> joined;
    for (const std::size_t index : table->efficient)
        if (table->rows[index].zoneMean) joined.push_back(&table->rows[index]);
    std::ranges::sort(joined, {}, &GearRow::peakPackCurrent);
    for (const GearRow* row : joined)
        efficient.add(row->peakPackCurrent, speed.shown(*row->zoneMean), pairText(*row));
    content.series = {std::move(efficient), std::move(broken), std::move(within), std::move(makes)};
    if (const auto target = session_.input().drive.target_mps)
        content.limits.push_back({.value = speed.shown(*target), .label = tr("target")});
    chart_->setContent(std::move(content));
}

void GearPanel::fit(int row) {
    const auto table = worker_.result();
    if (!table || row < 0 || row >= model_->rowCount()) return;
    const GearRow& chosen = table->rows[static_cast<std::size_t>(row)];
    PlanInput next = session_.input();
    next.gears.pinion_teeth = chosen.pinion;
    next.gears.spur_teeth = chosen.spur;
    session_.step(tr("fit %1").arg(pairText(chosen)), std::move(next));
}

} // namespace rw
