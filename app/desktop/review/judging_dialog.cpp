#include "app/desktop/review/judging_dialog.h"

#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/labels.h"
#include "storage/own_limits.h"

#include <QComboBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

// A decimal comma is as good as a point. nullopt: no number.
std::optional<double> numberFrom(const QString& text) {
    bool good = false;
    const double value = QString(text).trimmed().replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&good);
    return good ? std::optional(value) : std::nullopt;
}

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
    , cells_(new QLineEdit)
    , cutoff_(new QLineEdit)
    , nudge_(new QLineEdit)
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
    cells_->setAccessibleName(tr("Cells in series"));
    if (said.cutoffCell) cutoff_->setText(QString::number(*said.cutoffCell));
    cutoff_->setPlaceholderText(tr("as in the plan"));
    cutoff_->setToolTip(tr("Volts per cell at which the controller was set to take power away"));
    cutoff_->setAccessibleName(tr("Cutoff, volts per cell"));
    if (said.trackNudge != 0.0) nudge_->setText(QString::number(said.trackNudge));
    nudge_->setPlaceholderText(QStringLiteral("0"));
    nudge_->setEnabled(review.data()->context.track.has_value());
    nudge_->setToolTip(tr("Seconds added to the offset that was found between the two clocks"));
    nudge_->setAccessibleName(tr("Measured speed later by, seconds"));
    auto* form = new QFormLayout;
    form->setHorizontalSpacing(2 * gridStep);
    form->setVerticalSpacing(gridStep);
    form->addRow(tr("Cells in series"), cells_);
    form->addRow(tr("Cutoff, V a cell"), cutoff_);
    form->addRow(tr("Measured speed later by, s"), nudge_);
    form->addRow(tr("Limits and thresholds"), limits_);
    fillLimits(said.limits);
    auto* column = dialogColumn(*this);
    column->addLayout(form);
    column->addWidget(problem_);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("Judge")));
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
        return problem_->say(
            tr("Cells: \"%1\" is not understood. Write whole numbers from 1 to 30, one or one a session: 4, 6.")
                .arg(cells_->text()));
    std::optional<double> cutoff;
    if (!cutoff_->text().trimmed().isEmpty()) {
        cutoff = numberFrom(cutoff_->text());
        if (!cutoff || *cutoff < 2.0 || *cutoff > 4.2) {
            return problem_->say(
                tr("Cutoff: \"%1\" is no voltage per cell from 2.0 to 4.2; leave it empty to use the plan's.")
                    .arg(cutoff_->text()));
        }
    }
    double nudge = 0.0;
    if (!nudge_->text().trimmed().isEmpty()) {
        const auto told = numberFrom(nudge_->text());
        if (!told) return problem_->say(tr("Measured speed: \"%1\" is no number of seconds.").arg(nudge_->text()));
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

} // namespace rw
