#include "app/desktop/plan/gear_panel.h"

#include "app/desktop/plan/gear_table_model.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/labels.h"
#include "plotting/chart.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace rw {

namespace {

constexpr int roomForBoth = 90 * gridStep; // wider than this, table and picture stand side by side

QString pairText(const GearRow& row) { return QStringLiteral("%1/%2").arg(row.pinion).arg(row.spur); }

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

} // namespace

GearPanel::GearPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , model_(new GearTableModel(session.units(), this))
    , worker_(
          this, session,
          [](const PlanInput& input, std::stop_token stop) {
              return sweepGears(input, GearRank::Fastest, {.stop = std::move(stop), .progress = {}, .threads = 0});
          },
          [this] { rank(static_cast<GearRank>(rank_->currentIndex())); }) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep);
    auto* bar = new QHBoxLayout;
    bar->setSpacing(gridStep);
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    rank_ = new QComboBox;
    rank_->addItems(
        {tr("fastest within limits"), tr("least current for the target"), tr("shortest run to the target")});
    rank_->setAccessibleName(tr("Rank gear pairs by"));
    rank_->setFont(rw::font(Type::Small));
    pictureButton_ = new QToolButton;
    pictureButton_->setText(tr("Picture"));
    pictureButton_->setFont(rw::font(Type::Small));
    pictureButton_->setCheckable(true);
    pictureButton_->setFocusPolicy(Qt::StrongFocus);
    pictureButton_->setToolTip(tr("Speed against current of every pair, the efficient ones joined"));
    bar->addWidget(note_, 1);
    bar->addWidget(rank_);
    bar->addWidget(pictureButton_);
    column->addLayout(bar);
    table_ = new FigureTable(model_, tr("Gear table"));
    chart_ = new Chart;
    chart_->setAccessibleName(tr("Speed against current of every gear pair"));
    auto* both = new QHBoxLayout;
    both->setSpacing(3 * gridStep);
    both->addWidget(table_, 1);
    both->addWidget(chart_, 1);
    column->addLayout(both, 1);

    connect(&session_.desk().units, &Units::changed, this, [this] {
        model_->refresh();
        drawTradeOff();
    });
    connect(rank_, &QComboBox::currentIndexChanged, this, [this](int index) { rank(static_cast<GearRank>(index)); });
    connect(table_, &FigureTable::rowActivated, this, &GearPanel::fit);
    connect(table_, &FigureTable::clicked, this, [this](const QModelIndex& index) { fit(index.row()); });
    connect(pictureButton_, &QToolButton::toggled, this, &GearPanel::arrange);
    connect(chart_, &Chart::pointClicked, this, [this](int, int index) { table_->selectRow(index); });
    arrange();
}

void GearPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    worker_.setWanted(true);
}

void GearPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    worker_.setWanted(false);
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
    model_->setTable(table);
    if (!session_.empty()) model_->setFitted(session_.input().gears.pinion_teeth, session_.input().gears.spur_teeth);
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
        chart_->setContent(std::move(content));
        return;
    }
    ChartSeries makes{.name = tr("makes the target"),
                      .hue = Hue::Speed,
                      .line = LineKind::None,
                      .point = PointKind::Disc,
                      .freeForm = true};
    ChartSeries within{
        .name = {}, .hue = Hue::Speed, .line = LineKind::None, .point = PointKind::Ring, .freeForm = true};
    ChartSeries broken{
        .name = tr("over a limit"), .muted = true, .line = LineKind::None, .point = PointKind::Cross, .freeForm = true};
    ChartSeries efficient{.name = tr("efficient"), .hue = Hue::Speed, .line = LineKind::Solid, .freeForm = true};
    for (const GearRow& row : table->rows) {
        if (!row.zoneMean) continue;
        ChartSeries& series = !row.withinLimits ? broken : row.makesTarget ? makes : within;
        series.x.push_back(row.peakPackCurrent);
        series.y.push_back(speed.shown(*row.zoneMean));
        series.notes.push_back(pairText(row));
        if (row.pinion == session_.input().gears.pinion_teeth && row.spur == session_.input().gears.spur_teeth)
            content.markers.push_back({.x = series.x.back(), .y = series.y.back(), .label = pairText(row)});
    }
    std::vector<const GearRow*> joined;
    for (const std::size_t index : table->efficient)
        if (table->rows[index].zoneMean) joined.push_back(&table->rows[index]);
    std::sort(joined.begin(), joined.end(),
              [](const GearRow* a, const GearRow* b) { return a->peakPackCurrent < b->peakPackCurrent; });
    for (const GearRow* row : joined) {
        efficient.x.push_back(row->peakPackCurrent);
        efficient.y.push_back(speed.shown(*row->zoneMean));
        efficient.notes.push_back(pairText(*row));
    }
    content.series = {std::move(efficient), std::move(broken), std::move(within), std::move(makes)};
    if (const auto target = session_.input().drive.target_mps)
        content.limits.push_back({.value = speed.shown(*target), .label = tr("target")});
    chart_->setContent(std::move(content));
}

void GearPanel::fit(int row) {
    const GearTable* table = model_->table();
    if (!table || row < 0 || row >= model_->rowCount()) return;
    const GearRow& chosen = table->rows[static_cast<std::size_t>(row)];
    PlanInput next = session_.input();
    next.gears.pinion_teeth = chosen.pinion;
    next.gears.spur_teeth = chosen.spur;
    session_.endEdit();
    session_.edit(tr("fit %1").arg(pairText(chosen)), {}, std::move(next));
}

} // namespace rw
