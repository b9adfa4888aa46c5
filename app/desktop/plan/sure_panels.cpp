#include "app/desktop/plan/sure_panels.h"

#include "app/desktop/plan/bar_lists.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/widgets.h"
#include "core/plan/plan_figures.h"

#include <QCheckBox>
#include <QComboBox>
#include <QProgressBar>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

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

struct Effect {
    std::string_view key; // of planFigures()
    const char* label;
};

constexpr std::array effects{
    Effect{"zone_mean_mps", "on the zone speed"}, Effect{"peak_pack_A", "on the peak current"},
    Effect{"min_cell_V", "on the lowest cell"},   Effect{"case_soak_peak_C", "on the motor after soak"},
    Effect{"stop_at_m", "on where it stands"},
};

QString signedFigure(std::optional<double> value, int decimals) {
    if (!value) return QStringLiteral("–");
    const QString digits = figure(*value, decimals);
    return *value > 0.0 && !digits.startsWith(QChar(0x2212)) ? u'+' + digits : digits;
}

const SensitivityChange* changeOf(const Sensitivity& input, std::string_view name) {
    const auto found = std::ranges::find(input.changes, name, &SensitivityChange::figure);
    return found == input.changes.end() ? nullptr : &*found;
}

double reach(const BarRow& row) { return std::max(std::abs(row.down.value_or(0.0)), std::abs(row.up.value_or(0.0))); }

} // namespace

ChancesPanel::ChancesPanel(PlanSession& session, SpreadController& spread)
    : session_(session)
    , spread_(spread) {
    headline_ = paragraph();
    bar_ = named(new QProgressBar, tr("Progress of the chances"));
    bar_->setRange(0, 1000);
    bar_->setTextVisible(false);
    bar_->setFixedWidth(12 * gridStep);
    more_ = button(tr("10 000 runs"), this, [this] { spread_.run(SpreadController::thoroughRuns); });
    more_->setFont(rw::font(Type::Small));
    more_->setToolTip(tr("Run more: rare events are told better"));
    stop_ = tagged(button(tr("Stop"), &spread_, &SpreadController::stop), "stopSpread");
    stop_->setFont(rw::font(Type::Small));
    intervals_ = named(new IntervalList, tr("90 % intervals"));
    drivers_ = paragraph({}, Type::Small, Tone::Soft);
    auto* inside = new QWidget;
    lay(*columnIn(inside, usualSpacing, {0, 0, gridStep, 0}), {intervals_, drivers_, slack()});
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}),
        {laid(rowOf(gridStep), {grow(headline_), bar_, more_, stop_}), grow(scrolled(inside, Qt::StrongFocus))});
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
        const auto found = std::ranges::find(result->figures, shown.name, &SpreadFigure::name);
        if (found == result->figures.end() || !found->p05 || !found->p50 || !found->p95) continue;
        IntervalRow row{tr(shown.label), {}, *found->p05, *found->p50, *found->p95, {}, {}, false};
        row.text = tr("%1 … %2").arg(units.figure(shown.dimension, found->p05, shown.decimals),
                                     units.text(shown.dimension, found->p95, shown.decimals));
        if (shown.limit.empty()) {
            row.mark = session_.input().drive.target_mps;
            if (result->targetProbability) row.chance = tr("%1 make it").arg(percent(*result->targetProbability));
        } else {
            const auto& margins = outcome->result.margins;
            const auto margin = std::ranges::find(margins, shown.limit, &Margin::limit);
            if (margin != margins.end()) row.mark = margin->allowed;
            const auto limit = std::ranges::find(result->limits, shown.limit, &SpreadLimit::limit);
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

MattersPanel::MattersPanel(PlanSession& session, SpreadController& spread)
    : session_(session)
    , spread_(spread)
    , worker_(
          this, session,
          [](const PlanInput& input, std::stop_token stop) {
              return planSensitivity(input, {.stop = std::move(stop), .progress = {}, .threads = 0});
          },
          [this] { draw(); }) {
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    figure_ = named(new QComboBox, tr("Effect on"));
    figure_->setFont(rw::font(Type::Small));
    for (const Effect& row : effects)
        figure_->addItem(tr(row.label));
    byWorth_ = tagged(new QCheckBox(tr("by what measuring narrows")), "mattersByWorth");
    byWorth_->setFont(rw::font(Type::Small));
    bars_ = named(new BarList, tr("What matters most"));
    auto* inside = new QWidget;
    lay(*columnIn(inside, usualSpacing, {0, 0, gridStep, 0}), {bars_, slack()});
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}),
        {laid(new QHBoxLayout, {grow(note_), Piece(byWorth_, 0, Qt::AlignTop), Piece(figure_, 0, Qt::AlignTop)}),
         grow(scrolled(inside))});
    connect(figure_, &QComboBox::currentIndexChanged, this, &MattersPanel::draw);
    connect(byWorth_, &QCheckBox::toggled, this, &MattersPanel::draw);
    connect(&spread_, &SpreadController::changed, this, &MattersPanel::draw);
    connect(bars_, &BarList::activated, this, &MattersPanel::fieldWanted);
    connect(&session_.desk().units, &Units::changed, this, &MattersPanel::draw);
    draw();
}

const Worth* MattersPanel::worthOf(const std::string& key) const {
    const auto result = spread_.result();
    if (!result) return nullptr;
    const auto& all = result->worth.inputs;
    const auto found = std::ranges::find(all, key, &Worth::key);
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
        *findPlanFigure(effects[static_cast<std::size_t>(std::max(0, figure_->currentIndex()))].key);
    const UnitView unit = session_.units().of(shown.dimension);
    std::vector<BarRow> rows;
    for (const Sensitivity& input : result ? result->inputs : std::vector<Sensitivity>{}) {
        const PlanField* field = findPlanField(input.key);
        const SensitivityChange* change = changeOf(input, shown.key);
        if (!field || !change) continue;
        const auto scaled = [&unit](std::optional<double> value) {
            return value ? std::optional(*value * unit.factor) : value;
        };
        const UnitView own = fieldUnit(*field, session_.units());
        BarRow row{QString::fromStdString(input.key),
                   fieldLabel(*field),
                   QStringLiteral("± ") + significantText(input.deviation * own.factor, 2) + QChar(0x00a0) + own.symbol,
                   scaled(change->down),
                   scaled(change->up),
                   QString(),
                   QString()};
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
