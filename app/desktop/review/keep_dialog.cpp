#include "app/desktop/review/keep_dialog.h"

#include "app/desktop/review/session_packs.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/labels.h"

#include <QComboBox>
#include <QDate>
#include <QFormLayout>
#include <QLineEdit>
#include <QPushButton>

namespace rw {

namespace {

const QString none; // data of "not told"
const QString fresh = QStringLiteral("new");

std::optional<Id> chosenId(const QComboBox& box) { return idFromText(box.currentData().toString().toStdString()); }

void addItem(QComboBox& box, const std::string& name, Id id) {
    box.addItem(QString::fromStdString(name), QString::fromStdString(toString(id)));
}

} // namespace

KeepDialog::KeepDialog(ReviewDesk& review, QWidget* parent)
    : QDialog(parent)
    , review_(review)
    , setup_(new QComboBox)
    , outing_(new QComboBox)
    , venue_(new QComboBox)
    , outingName_(new QLineEdit)
    , date_(new QLineEdit(QDate::currentDate().toString(Qt::ISODate)))
    , notes_(new QLineEdit) {
    setWindowTitle(tr("Keep the log in the garage"));
    auto* words = new TextLabel(tr("The bytes are stored untouched, so the log can always be read again."), Type::Body,
                                Tone::Soft);
    words->setWordWrap(true);
    auto* form = new QFormLayout;
    form->setHorizontalSpacing(2 * gridStep);
    form->setVerticalSpacing(gridStep);
    form->addRow(tr("&Setup"), setup_);
    form->addRow(tr("&Outing"), outing_);
    form->addRow(tr("&Name"), outingName_);
    form->addRow(tr("&Date"), date_);
    form->addRow(tr("&Venue"), venue_);
    form->addRow(tr("No&tes"), notes_);
    addPacks(*form);
    setup_->setAccessibleName(tr("Setup that ran"));
    outing_->setAccessibleName(tr("Outing"));
    outingName_->setAccessibleName(tr("Name of the new outing"));
    date_->setAccessibleName(tr("Date of the new outing"));
    venue_->setAccessibleName(tr("Venue of the new outing"));
    notes_->setAccessibleName(tr("Notes"));
    date_->setPlaceholderText(QStringLiteral("2026-11-21"));
    auto* column = dialogColumn(*this);
    column->addWidget(words);
    column->addLayout(form);
    column->addStretch();
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Keep")));
    connect(outing_, &QComboBox::currentIndexChanged, this, &KeepDialog::showNewOuting);
    fill();
    showNewOuting();
    resize(460, sizeHint().height());
}

void KeepDialog::addPacks(QFormLayout& form) {
    const auto& sessions = review_.data()->review->sessions;
    if (sessions.size() < 2) return;
    std::vector<Part> packs;
    review_.desk().garage.attempt(tr("Reading packs"),
                                  [&](Garage& garage) { packs = garage.parts(ItemKind::Pack, true); });
    packs_ = new SessionPacks(sessions, packs);
    form.addRow(tr("Packs"), packs_);
}

void KeepDialog::takeKept(Garage& garage, Id log) {
    const StoredLog stored = garage.log(log);
    const auto put = [](QComboBox& box, const std::optional<Id>& id) {
        box.setCurrentIndex(std::max(0, box.findData(id ? QString::fromStdString(toString(*id)) : none)));
    };
    put(*setup_, stored.setup);
    put(*outing_, stored.outing);
    notes_->setText(QString::fromStdString(stored.notes));
    if (packs_ == nullptr) return;
    Id usual{ItemKind::Pack, 0};
    if (stored.setup) usual = garage.setup(*stored.setup).pack;
    for (const StoredSession& session : garage.sessions(log)) {
        const std::optional<Id>& pack = session.record.pack;
        if (pack && *pack != usual) packs_->choose(static_cast<std::size_t>(session.index), pack);
    }
}

void KeepDialog::fill() {
    setup_->addItem(tr("not told"), none);
    outing_->addItem(tr("a new outing"), fresh);
    outing_->addItem(tr("none"), none);
    venue_->addItem(tr("not told"), none);
    review_.desk().garage.attempt(tr("Reading setups and outings"), [this](Garage& garage) {
        for (const Setup& setup : garage.setups()) {
            addItem(*setup_, setup.name + " · " + tr("revision %1").arg(setup.revision).toStdString(), setup.id);
        }
        for (const Outing& outing : garage.outings())
            addItem(*outing_, outing.name + " · " + outing.date, outing.id);
        for (const Part& venue : garage.parts(ItemKind::Venue))
            addItem(*venue_, venue.name, venue.id);
    });
    const BenchContent& bench = review_.desk().bench.content();
    setup_->setCurrentIndex(std::max(0, setup_->findData(bench.setupId.isEmpty() ? none : bench.setupId)));
    venue_->setCurrentIndex(std::max(0, venue_->findData(bench.venueId.isEmpty() ? none : bench.venueId)));
    const LogSource& source = review_.data()->source;
    if (source.kept && source.garage == review_.desk().garage.garage().path())
        review_.desk().garage.attempt(tr("Reading the kept log"),
                                      [&](Garage& garage) { takeKept(garage, *source.kept); });
}

void KeepDialog::showNewOuting() {
    const bool isNew = outing_->currentData().toString() == fresh;
    for (QWidget* field : std::initializer_list<QWidget*>{outingName_, date_, venue_})
        field->setEnabled(isNew);
    if (isNew && outingName_->text().isEmpty()) outingName_->setText(tr("Outing of %1").arg(date_->text()));
}

KeepChoice KeepDialog::choice() const {
    KeepChoice choice;
    choice.setup = chosenId(*setup_);
    choice.notes = notes_->text().trimmed().toStdString();
    if (packs_ != nullptr) choice.packs = packs_->chosen();
    if (outing_->currentData().toString() != fresh) {
        choice.outing = chosenId(*outing_);
        return choice;
    }
    Outing made;
    made.name = outingName_->text().trimmed().toStdString();
    made.date = date_->text().trimmed().toStdString();
    made.venue = chosenId(*venue_);
    if (choice.setup) made.setups.push_back(*choice.setup);
    choice.newOuting = made;
    return choice;
}

} // namespace rw
