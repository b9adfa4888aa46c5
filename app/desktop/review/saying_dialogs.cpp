#include "app/desktop/review/saying_dialogs.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "storage/own_limits.h"

#include <QComboBox>
#include <QLineEdit>

#include <algorithm>

namespace rw {

namespace {

// A decimal comma is as good as a point. nullopt: no number.
std::optional<double> numberFrom(const QString& text) {
    bool good = false;
    const double value = QString(text).trimmed().replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&good);
    return good ? std::optional(value) : std::nullopt;
}

constexpr double usualUncertainty_mps = SpeedNote{}.uncertainty_mps;

} // namespace

std::optional<std::vector<int>> cellsFromText(const QString& text) {
    constexpr int most = 30;
    std::vector<int> cells;
    for (const QString& word : text.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        if (word.trimmed().isEmpty()) continue;
        bool good = false;
        const int count = word.trimmed().toInt(&good);
        if (!good || count < 1 || count > most) return std::nullopt;
        cells.push_back(count);
    }
    return cells;
}

JudgingDialog::JudgingDialog(ReviewDesk& review, QWidget* parent)
    : QDialog(parent)
    , review_(review)
    , cells_(named(new QLineEdit, tr("Cells in series")))
    , cutoff_(named(new QLineEdit, tr("Cutoff, volts per cell")))
    , nudge_(named(new QLineEdit, tr("Measured speed later by, seconds")))
    , limits_(new QComboBox)
    , problem_(new ComplaintLabel) {
    setWindowTitle(tr("How the log is judged"));
    const LogSaid& said = review.data()->context.said;
    QStringList cells;
    for (const int count : said.cells)
        cells << QString::number(count);
    cells_->setText(cells.join(QStringLiteral(", ")));
    cells_->setPlaceholderText(tr("as found from the resting voltage"));
    cells_->setToolTip(tr("One count for every session, or one a session: 4, 6"));
    if (said.cutoffCell) cutoff_->setText(QString::number(*said.cutoffCell));
    cutoff_->setPlaceholderText(tr("as in the plan"));
    cutoff_->setToolTip(tr("Volts per cell at which the controller was set to take power away"));
    if (said.trackNudge != 0.0) nudge_->setText(QString::number(said.trackNudge));
    nudge_->setPlaceholderText(QStringLiteral("0"));
    nudge_->setEnabled(review.data()->context.track.has_value());
    nudge_->setToolTip(tr("Seconds added to the offset that was found between the two clocks"));
    auto* form = formIn();
    form->addRow(tr("Cells in series"), cells_);
    form->addRow(tr("Cutoff, V a cell"), cutoff_);
    form->addRow(tr("Measured speed later by, s"), nudge_);
    form->addRow(tr("Limits and thresholds"), limits_);
    fillLimits(said.limits);
    auto* column = dialogColumn(*this);
    lay(*column, {form, problem_, dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("Judge"))});
    setMinimumWidth(420);
}

// Sets of the garage; what the log was kept with, where no set is that any more.
void JudgingDialog::fillLimits(const Values& said) {
    limits_->setAccessibleName(tr("Limits and thresholds"));
    limits_->setToolTip(tr("A limit set of your own, from the garage: its limits over the plan's, its thresholds over "
                           "those of the findings"));
    limits_->addItem(tr("as in the plan, usual thresholds"));
    sets_.emplace_back();
    GarageSession& session = review_.desk().garage;
    if (session.isOpen())
        session.look([this](Garage& garage) {
            for (const Part& set : garage.parts(ItemKind::LimitSet)) {
                limits_->addItem(QString::fromStdString(set.name));
                sets_.push_back(ownLimits(garage, set.id, "limits"));
            }
        });
    if (std::ranges::find(sets_, said) == sets_.end()) {
        limits_->addItem(tr("as they were when it was kept"));
        sets_.push_back(said);
    }
    limits_->setCurrentIndex(static_cast<int>(std::ranges::find(sets_, said) - sets_.begin()));
}

void JudgingDialog::accept() {
    const auto cells = cellsFromText(cells_->text());
    if (!cells)
        return problem_->tell(
            tr("Cells: \"%1\" is not understood. Write whole numbers from 1 to 30, one or one a session: 4, 6.")
                .arg(cells_->text()));
    std::optional<double> cutoff;
    if (!cutoff_->text().trimmed().isEmpty()) {
        cutoff = numberFrom(cutoff_->text());
        if (!cutoff || *cutoff < 2.0 || *cutoff > 4.2) {
            return problem_->tell(
                tr("Cutoff: \"%1\" is no voltage per cell from 2.0 to 4.2; leave it empty to use the plan's.")
                    .arg(cutoff_->text()));
        }
    }
    double nudge = 0.0;
    if (!nudge_->text().trimmed().isEmpty()) {
        const auto told = numberFrom(nudge_->text());
        if (!told) return problem_->tell(tr("Measured speed: \"%1\" is no number of seconds.").arg(nudge_->text()));
        nudge = *told;
    }
    LogSaid said = review_.data()->context.said;
    said.cells = *cells;
    said.cutoffCell = cutoff;
    said.trackNudge = nudge;
    said.limits = sets_[static_cast<std::size_t>(limits_->currentIndex())];
    review_.setJudging(said);
    QDialog::accept();
}

NotedDialog::NotedDialog(std::size_t pass, const PassNote& note, const Units& units, QWidget* parent)
    : QDialog(parent)
    , units_(units)
    , note_(note)
    , direction_(named(new QComboBox, tr("Which way it ran")))
    , complaint_(new ComplaintLabel) {
    setWindowTitle(tr("Pass %1: what was noted").arg(pass + 1));
    setMinimumWidth(54 * gridStep);
    auto* words = paragraph(tr("A speed that was only read off: a display on the vehicle, a speed gun, light gates. "
                               "The log is learned from with it."),
                            Type::Small, Tone::Soft);
    auto* form = formIn();
    const QString symbol = units.symbol(Dimension::Speed);
    for (const auto& [row, name, kind] : {std::tuple(&peak_, tr("&Highest speed"), SpeedKind::Peak),
                                          std::tuple(&zone_, tr("Through the timed &zone"), SpeedKind::ZoneMean)}) {
        *row = makeRow(QString(name).remove(u'&'), kind);
        auto* pair = laid(rowOf(), {grow(row->speed, 2), new TextLabel(QStringLiteral("±"), Type::Body, Tone::Soft),
                                    grow(row->spread), new TextLabel(symbol, Type::Body, Tone::Soft)});
        auto* label = new QLabel(name);
        label->setBuddy(row->speed);
        form->addRow(label, pair);
    }
    direction_->addItem(tr("not told"), static_cast<int>(Direction::Unknown));
    direction_->addItem(tr("there"), static_cast<int>(Direction::There));
    direction_->addItem(tr("back: wind and slope turned"), static_cast<int>(Direction::Back));
    direction_->setCurrentIndex(direction_->findData(static_cast<int>(note.direction)));
    form->addRow(tr("&Which way"), direction_);
    auto* column = dialogColumn(*this);
    lay(*column, {words, form, complaint_, dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel)});
}

NotedDialog::Row NotedDialog::makeRow(const QString& name, SpeedKind kind) {
    const UnitView unit = units_.of(Dimension::Speed);
    const auto there = std::ranges::find(note_.speeds, kind, &SpeedNote::kind);
    const bool known = there != note_.speeds.end();
    Row row{new QLineEdit, new QLineEdit};
    row.speed->setAccessibleName(name);
    row.spread->setAccessibleName(tr("Standard uncertainty of %1").arg(name));
    row.speed->setAlignment(Qt::AlignRight);
    row.spread->setAlignment(Qt::AlignRight);
    row.speed->setPlaceholderText(tr("not noted"));
    if (known) row.speed->setText(figure(unit.shown(there->mps), 1));
    row.spread->setText(significantText((known ? there->uncertainty_mps : usualUncertainty_mps) * unit.factor, 2));
    return row;
}

void NotedDialog::read(const Row& row, SpeedKind kind, std::vector<SpeedNote>& notes) const {
    constexpr double fastest = 200.0; // m/s, as the garage allows
    if (row.speed->text().trimmed().isEmpty()) return;
    const UnitView unit = units_.of(Dimension::Speed);
    SpeedNote note{kind, unit.inside(typedNumber(row.speed->text())), typedNumber(row.spread->text()) / unit.factor};
    if (!(note.mps > 0.0) || note.mps > fastest)
        throw InputError(
            {}, tr("A speed is over 0 and at most %1.").arg(units_.text(Dimension::Speed, fastest, 0)).toStdString());
    if (!(note.uncertainty_mps > 0.0)) throw InputError({}, tr("Its ± is over 0.").toStdString());
    notes.push_back(note);
}

void NotedDialog::accept() {
    try {
        std::vector<SpeedNote> notes;
        read(zone_, SpeedKind::ZoneMean, notes);
        read(peak_, SpeedKind::Peak, notes);
        note_.speeds = std::move(notes);
        note_.direction = static_cast<Direction>(direction_->currentData().toInt());
        QDialog::accept();
    } catch (const InputError& error) {
        complaint_->tell(QString::fromStdString(error.message()));
    }
}

} // namespace rw
