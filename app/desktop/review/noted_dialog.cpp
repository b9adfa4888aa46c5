#include "app/desktop/review/noted_dialog.h"

#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/labels.h"
#include "core/error.h"

#include <QComboBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

constexpr double usualUncertainty_mps = SpeedNote{}.uncertainty_mps;

}

NotedDialog::NotedDialog(std::size_t pass, const PassNote& note, const Units& units, QWidget* parent)
    : QDialog(parent)
    , units_(units)
    , note_(note)
    , direction_(new QComboBox)
    , complaint_(new ComplaintLabel) {
    setWindowTitle(tr("Pass %1: what was noted").arg(pass + 1));
    setMinimumWidth(54 * gridStep);
    auto* words =
        new TextLabel(tr("A speed that was only read off: a display on the vehicle, a speed gun, light gates. "
                         "The log is learned from with it."),
                      Type::Small, Tone::Soft);
    words->setWordWrap(true);
    auto* form = new QFormLayout;
    form->setVerticalSpacing(gridStep);
    form->setHorizontalSpacing(2 * gridStep);
    const QString symbol = units.symbol(Dimension::Speed);
    for (const auto& [row, name, kind] : {std::tuple(&peak_, tr("&Highest speed"), SpeedKind::Peak),
                                          std::tuple(&zone_, tr("Through the timed &zone"), SpeedKind::ZoneMean)}) {
        *row = makeRow(QString(name).remove(u'&'), kind);
        auto* pair = new QHBoxLayout;
        pair->addWidget(row->speed, 2);
        pair->addWidget(new TextLabel(QStringLiteral("±"), Type::Body, Tone::Soft));
        pair->addWidget(row->spread, 1);
        pair->addWidget(new TextLabel(symbol, Type::Body, Tone::Soft));
        auto* label = new QLabel(name);
        label->setBuddy(row->speed);
        form->addRow(label, pair);
    }
    direction_->setAccessibleName(tr("Which way it ran"));
    direction_->addItem(tr("not told"), static_cast<int>(Direction::Unknown));
    direction_->addItem(tr("there"), static_cast<int>(Direction::There));
    direction_->addItem(tr("back: wind and slope turned"), static_cast<int>(Direction::Back));
    direction_->setCurrentIndex(direction_->findData(static_cast<int>(note.direction)));
    form->addRow(tr("&Which way"), direction_);
    auto* column = dialogColumn(*this);
    column->addWidget(words);
    column->addLayout(form);
    column->addWidget(complaint_);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel));
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
        complaint_->say(QString::fromStdString(error.message()));
    }
}

} // namespace rw
