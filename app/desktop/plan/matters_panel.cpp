#include "app/desktop/plan/matters_panel.h"

#include "app/desktop/plan/bar_list.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/labels.h"
#include "core/plan/plan_figures.h"

#include <QCheckBox>
#include <QComboBox>
#include <QHBoxLayout>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace rw {

namespace {

struct ShownFigure {
    std::string_view key; // of planFigures()
    const char* label;
};

constexpr std::array figures{
    ShownFigure{"zone_mean_mps", "on the zone speed"}, ShownFigure{"peak_pack_A", "on the peak current"},
    ShownFigure{"min_cell_V", "on the lowest cell"},   ShownFigure{"case_soak_peak_C", "on the motor after soak"},
    ShownFigure{"stop_at_m", "on where it stands"},
};

QString signedFigure(std::optional<double> value, int decimals) {
    if (!value) return QStringLiteral("–");
    const QString digits = figure(*value, decimals);
    return *value > 0.0 && !digits.startsWith(QChar(0x2212)) ? u'+' + digits : digits;
}

const SensitivityChange* changeOf(const Sensitivity& input, std::string_view name) {
    const auto found = std::find_if(input.changes.begin(), input.changes.end(),
                                    [name](const auto& change) { return change.figure == name; });
    return found == input.changes.end() ? nullptr : &*found;
}

double reach(const BarRow& row) { return std::max(std::abs(row.down.value_or(0.0)), std::abs(row.up.value_or(0.0))); }

} // namespace

MattersPanel::MattersPanel(PlanSession& session, SpreadController& spread, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , spread_(spread)
    , worker_(
          this, session,
          [](const PlanInput& input, std::stop_token stop) {
              return planSensitivity(input, {.stop = std::move(stop), .progress = {}, .threads = 0});
          },
          [this] { draw(); }) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep);
    auto* bar = new QHBoxLayout;
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    figure_ = new QComboBox;
    figure_->setFont(rw::font(Type::Small));
    for (const ShownFigure& row : figures)
        figure_->addItem(tr(row.label));
    figure_->setAccessibleName(tr("Effect on"));
    byWorth_ = new QCheckBox(tr("by what measuring narrows"));
    byWorth_->setObjectName(QStringLiteral("mattersByWorth"));
    byWorth_->setFont(rw::font(Type::Small));
    bar->addWidget(note_, 1);
    bar->addWidget(byWorth_, 0, Qt::AlignTop);
    bar->addWidget(figure_, 0, Qt::AlignTop);
    column->addLayout(bar);
    bars_ = new BarList;
    bars_->setAccessibleName(tr("What matters most"));
    auto* area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setFocusPolicy(Qt::NoFocus);
    auto* inside = new QWidget;
    auto* insideColumn = new QVBoxLayout(inside);
    insideColumn->setContentsMargins(0, 0, gridStep, 0);
    insideColumn->addWidget(bars_);
    insideColumn->addStretch();
    area->setWidget(inside);
    column->addWidget(area, 1);
    connect(figure_, &QComboBox::currentIndexChanged, this, &MattersPanel::draw);
    connect(byWorth_, &QCheckBox::toggled, this, &MattersPanel::draw);
    connect(&spread_, &SpreadController::changed, this, &MattersPanel::draw);
    connect(bars_, &BarList::activated, this, &MattersPanel::fieldWanted);
    connect(&session_.desk().units, &Units::changed, this, &MattersPanel::draw);
    draw();
}

void MattersPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    worker_.setWanted(true);
}

void MattersPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    worker_.setWanted(false);
}

const Worth* MattersPanel::worthOf(const std::string& key) const {
    const auto result = spread_.result();
    if (!result) return nullptr;
    const auto& all = result->worth.inputs;
    const auto found = std::find_if(all.begin(), all.end(), [&](const Worth& worth) { return worth.key == key; });
    return found != all.end() && found->zoneMean.after.p05 ? &*found : nullptr;
}

QString MattersPanel::worthText(const Worth& worth, const PlanField& field) const {
    const UnitView speed = session_.units().of(Dimension::Speed), own = fieldUnit(field, session_.units());
    if (worth.zoneMean.narrowing() <= 0.0) return tr("known as well as it can be measured");
    const auto width = [&](const Band& band) { return significantText(band.width() * speed.factor, 2); };
    return tr("measured to ± %1: %2 → %3 %4")
        .arg(significantText(worth.measurableTo * own.factor, 2) + QChar(0x00a0) + own.symbol,
             width(worth.zoneMean.before), width(worth.zoneMean.after), speed.symbol);
}

void MattersPanel::draw() {
    const auto result = worker_.result();
    const PlanFigure& shown =
        *findPlanFigure(figures[static_cast<std::size_t>(std::max(0, figure_->currentIndex()))].key);
    const UnitView unit = session_.units().of(shown.dimension);
    std::vector<BarRow> rows;
    for (const Sensitivity& input : result ? result->inputs : std::vector<Sensitivity>{}) {
        const PlanField* field = findPlanField(input.key);
        const SensitivityChange* change = changeOf(input, shown.key);
        if (!field || !change) continue;
        const auto scaled = [&unit](std::optional<double> value) {
            return value ? std::optional(*value * unit.factor) : value;
        };
        BarRow row{QString::fromStdString(input.key),
                   fieldLabel(*field),
                   {},
                   scaled(change->down),
                   scaled(change->up),
                   {},
                   {}};
        const UnitView own = fieldUnit(*field, session_.units());
        row.note = QStringLiteral("± ") + significantText(input.deviation * own.factor, 2) + QChar(0x00a0) + own.symbol;
        row.text = tr("%1 / %2").arg(signedFigure(row.down, shown.decimals), signedFigure(row.up, shown.decimals));
        if (const Worth* worth = worthOf(input.key)) row.worth = worthText(*worth, *field);
        rows.push_back(std::move(row));
    }
    const auto narrowing = [this](const BarRow& row) {
        const Worth* worth = worthOf(row.key.toStdString());
        return worth != nullptr ? worth->zoneMean.narrowing() : -1.0;
    };
    std::stable_sort(rows.begin(), rows.end(), [&](const BarRow& a, const BarRow& b) {
        return byWorth_->isChecked() ? narrowing(a) > narrowing(b) : reach(a) > reach(b);
    });
    if (rows.empty())
        note_->setText({}, result ? tr("No uncertainty is stated. Point at a field and say how sure its value is (±).")
                                  : QString());
    else
        note_->setText({},
                       tr("%1; filled: input larger, outlined: smaller; below: what measuring it does to the nine in "
                          "ten of the zone speed. A click leads to the field.")
                           .arg(unit.symbol));
    bars_->setRows(std::move(rows));
}

} // namespace rw
