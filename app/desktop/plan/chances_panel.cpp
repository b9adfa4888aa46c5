#include "app/desktop/plan/chances_panel.h"

#include "app/desktop/plan/interval_list.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr double poorChance = 0.05; // of breaking a limit: once in twenty is too often to pass over

struct ShownFigure {
    std::string_view name;
    std::string_view limit; // whose allowance is marked; empty: the target
    const char* label;
    Dimension dimension;
    int decimals;
};

constexpr std::array figures{
    ShownFigure{"zone_mean_mps", "", "Timed zone", Dimension::Speed, 1},
    ShownFigure{"peak_pack_A", "pack_continuous", "Peak pack current", Dimension::Current, 0},
    ShownFigure{"min_cell_V", "cell_voltage", "Lowest cell", Dimension::Voltage, 2},
    ShownFigure{"case_soak_peak_C", "case_comfort", "Motor, after soak", Dimension::Temperature, 0},
    ShownFigure{"controller_peak_C", "controller_comfort", "Controller", Dimension::Temperature, 0},
    ShownFigure{"pack_peak_C", "pack_comfort", "Pack", Dimension::Temperature, 0},
    ShownFigure{"stop_at_m", "strip", "Stands at", Dimension::Distance, 0},
};

QString percent(double share) {
    if (share > 0.0 && share < 0.005) return ChancesPanel::tr("under 1 %");
    if (share < 1.0 && share > 0.995) return ChancesPanel::tr("over 99 %");
    return ChancesPanel::tr("%1 %").arg(figure(100.0 * share, 0));
}

} // namespace

ChancesPanel::ChancesPanel(PlanSession& session, SpreadController& spread, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , spread_(spread) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep);
    auto* row = new QHBoxLayout;
    row->setSpacing(gridStep);
    headline_ = new TextLabel(QString());
    headline_->setWordWrap(true);
    bar_ = new QProgressBar;
    bar_->setRange(0, 1000);
    bar_->setTextVisible(false);
    bar_->setFixedWidth(12 * gridStep);
    bar_->setAccessibleName(tr("Progress of the chances"));
    more_ = new QPushButton(tr("10 000 runs"));
    more_->setFont(rw::font(Type::Small));
    more_->setToolTip(tr("Run more: rare events are told better"));
    stop_ = new QPushButton(tr("Stop"));
    stop_->setObjectName(QStringLiteral("stopSpread"));
    stop_->setFont(rw::font(Type::Small));
    row->addWidget(headline_, 1);
    row->addWidget(bar_);
    row->addWidget(more_);
    row->addWidget(stop_);
    column->addLayout(row);
    intervals_ = new IntervalList;
    intervals_->setAccessibleName(tr("90 % intervals"));
    drivers_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    drivers_->setWordWrap(true);
    auto* inside = new QWidget;
    auto* list = new QVBoxLayout(inside);
    list->setContentsMargins(0, 0, gridStep, 0);
    list->addWidget(intervals_);
    list->addWidget(drivers_);
    list->addStretch();
    auto* area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setWidget(inside);
    column->addWidget(area, 1);
    connect(more_, &QPushButton::clicked, this, [this] { spread_.run(SpreadController::thoroughRuns); });
    connect(stop_, &QPushButton::clicked, &spread_, &SpreadController::stop);
    connect(&spread_, &SpreadController::changed, this, &ChancesPanel::draw);
    connect(&spread_, &SpreadController::progressed, this,
            [this] { bar_->setValue(static_cast<int>(1000.0 * spread_.progress())); });
    connect(&session_, &PlanSession::outcomeChanged, this, &ChancesPanel::draw);
    connect(&session_.desk().units, &Units::changed, this, &ChancesPanel::draw);
    draw();
}

void ChancesPanel::draw() {
    const bool busy = spread_.busy();
    bar_->setVisible(busy);
    bar_->setValue(static_cast<int>(1000.0 * spread_.progress()));
    stop_->setVisible(busy);
    more_->setVisible(!busy && spread_.hasUncertainty());
    headline_->setText(headline());
    intervals_->setRows(intervalRows());
    drivers_->setText(driversText());
}

QString ChancesPanel::headline() const {
    if (session_.empty()) return tr("Put a setup on the bench to see its chances.");
    if (!spread_.hasUncertainty())
        return tr("No range is known: no value on the bench has an uncertainty. Go to a field and say how sure its "
                  "value is (±, Ctrl+U).");
    const auto result = spread_.result();
    if (!result) return spread_.busy() ? tr("Running the pass with values as uncertain as you said…") : tr("Stopped.");
    const QString runs = figure(static_cast<double>(result->runs), 0);
    const auto target = session_.input().drive.target_mps;
    if (!result->targetProbability || !target)
        return tr("%1 runs over the stated uncertainties. No target is set.").arg(runs);
    return tr("%1 of %2 runs make %3.")
        .arg(percent(*result->targetProbability), runs, session_.units().text(Dimension::Speed, target));
}

std::vector<IntervalRow> ChancesPanel::intervalRows() const {
    const auto result = spread_.result();
    const auto outcome = session_.outcome();
    std::vector<IntervalRow> rows;
    if (!result || !outcome) return rows;
    const Units& units = session_.units();
    for (const ShownFigure& shown : figures) {
        const auto found = std::find_if(result->figures.begin(), result->figures.end(),
                                        [&](const auto& f) { return f.name == shown.name; });
        if (found == result->figures.end() || !found->p05 || !found->p50 || !found->p95) continue;
        IntervalRow row{tr(shown.label), {}, *found->p05, *found->p50, *found->p95, {}, {}, false};
        row.text = tr("%1 … %2").arg(units.figure(shown.dimension, found->p05, shown.decimals),
                                     units.text(shown.dimension, found->p95, shown.decimals));
        if (shown.limit.empty()) {
            row.mark = session_.input().drive.target_mps;
            if (result->targetProbability) row.chance = tr("%1 make it").arg(percent(*result->targetProbability));
        } else {
            const auto& margins = outcome->result.margins;
            const auto margin =
                std::find_if(margins.begin(), margins.end(), [&](const Margin& m) { return m.limit == shown.limit; });
            if (margin != margins.end()) row.mark = margin->allowed;
            const auto limit = std::find_if(result->limits.begin(), result->limits.end(),
                                            [&](const SpreadLimit& l) { return l.limit == shown.limit; });
            if (limit != result->limits.end()) {
                row.chance = limit->probabilityBroken == 0.0 ? tr("none over")
                                                             : tr("%1 over").arg(percent(limit->probabilityBroken));
                row.poor = limit->probabilityBroken > poorChance;
            }
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

QString ChancesPanel::driversText() const {
    const auto result = spread_.result();
    if (!result) return {};
    QStringList words;
    for (const SpreadDriver& driver : result->drivers) {
        const PlanField* field = findPlanField(driver.key);
        if (!field || !driver.share || *driver.share < 0.02 || words.size() == 4) continue;
        words << tr("%1 %2").arg(fieldLabel(*field), percent(*driver.share));
    }
    if (words.isEmpty()) return {};
    return tr("The spread of the zone speed comes from: %1.").arg(words.join(QStringLiteral(", ")));
}

} // namespace rw
