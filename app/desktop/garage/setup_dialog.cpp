#include "app/desktop/garage/setup_dialog.h"

#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/labels.h"
#include "core/plan/plan_fields.h"

#include <QComboBox>
#include <QCoreApplication>
#include <QFormLayout>
#include <QLineEdit>
#include <QVBoxLayout>

namespace rw {

namespace {

struct Role {
    ItemKind kind;
    const char* label;
    Id Setup::*member;
    std::string_view teeth; // of a gear: the value that makes it one of this role
};

constexpr std::array<Role, 7> roles{
    {{ItemKind::Vehicle, QT_TRANSLATE_NOOP("setup", "&Vehicle"), &Setup::vehicle, {}},
     {ItemKind::Motor, QT_TRANSLATE_NOOP("setup", "&Motor"), &Setup::motor, {}},
     {ItemKind::Controller, QT_TRANSLATE_NOOP("setup", "&Controller"), &Setup::controller, {}},
     {ItemKind::Pack, QT_TRANSLATE_NOOP("setup", "&Pack"), &Setup::pack, {}},
     {ItemKind::Tyre, QT_TRANSLATE_NOOP("setup", "&Tyre"), &Setup::tyre, {}},
     {ItemKind::Gear, QT_TRANSLATE_NOOP("setup", "P&inion"), &Setup::pinion, "gears.pinion_teeth"},
     {ItemKind::Gear, QT_TRANSLATE_NOOP("setup", "&Spur"), &Setup::spur, "gears.spur_teeth"}}};

bool needsValue(const PlanField& field) {
    return field.required && field.group != "venue" && field.group != "air" && field.group != "wind";
}

QStringList missingValues(const Setup& setup) {
    QStringList missing;
    for (const PlanField& field : planFields())
        if (needsValue(field) && !setup.values.contains(field.key()))
            missing << QStringLiteral("%1 (%2)").arg(fromUtf8(field.label), fromUtf8(field.group));
    return missing;
}

} // namespace

SetupDialog::SetupDialog(Garage& garage, std::optional<Id> chosen, QWidget* parent)
    : QDialog(parent)
    , garage_(garage) {
    setWindowTitle(tr("New setup from parts"));
    setMinimumWidth(60 * gridStep);
    auto* column = dialogColumn(*this);
    auto* help = new TextLabel(tr("A setup keeps the values of its parts as they are now. Later changes become "
                                  "revisions, each with a reason."),
                               Type::Small, Tone::Soft);
    help->setWordWrap(true);
    column->addWidget(help);
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    name_ = new QLineEdit;
    name_->setAccessibleName(tr("Name"));
    name_->setPlaceholderText(tr("as the vehicle"));
    for (std::size_t i = 0; i < roles.size(); ++i) {
        auto* box = parts_[i] = new QComboBox;
        for (const Part& part : garage.parts(roles[i].kind)) {
            if (!roles[i].teeth.empty() && part.values.find(roles[i].teeth) == part.values.end()) continue;
            box->addItem(QString::fromStdString(part.name), QString::fromStdString(toString(part.id)));
            if (chosen == part.id) box->setCurrentIndex(box->count() - 1);
        }
        const QString label = QCoreApplication::translate("setup", roles[i].label);
        box->setAccessibleName(QString(label).remove(u'&'));
        if (box->count() == 0) box->setPlaceholderText(tr("none yet: add one first"));
        form->addRow(label, box);
    }
    form->addRow(tr("&Name"), name_);
    column->addLayout(form);
    complaint_ = new ComplaintLabel;
    column->addWidget(complaint_);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel));
    connect(parts_.front(), &QComboBox::currentIndexChanged, this, &SetupDialog::takeUsualParts);
    if (!chosen || chosen->kind == ItemKind::Vehicle) takeUsualParts();
}

void SetupDialog::takeUsualParts() {
    const auto vehicle = idFromText(parts_.front()->currentData().toString().toStdString());
    if (!vehicle) return;
    try {
        const std::vector<Setup> setups = garage_.setups(vehicle);
        if (setups.empty()) return;
        for (std::size_t i = 1; i < roles.size(); ++i)
            parts_[i]->setCurrentIndex(
                parts_[i]->findData(QString::fromStdString(toString(setups.front().*roles[i].member))));
    } catch (const GarageError&) {
        return; // what is chosen stays
    }
}

QString SetupDialog::complaint() const { return complaint_->isHidden() ? QString() : complaint_->text(); }

void SetupDialog::accept() {
    const auto complain = [this](const QString& sentence) {
        complaint_->say(sentence);
        layout()->activate();
        resize(width(), layout()->totalHeightForWidth(width())); // else the fields give up the room
    };
    Setup setup;
    for (std::size_t i = 0; i < roles.size(); ++i) {
        const auto id = idFromText(parts_[i]->currentData().toString().toStdString());
        if (!id) return complain(tr("A setup needs one of each; add the missing part first."));
        setup.*roles[i].member = *id;
    }
    const QString name = name_->text().trimmed();
    setup.name = (name.isEmpty() ? parts_.front()->currentText() : name).toStdString();
    try {
        setup = garage_.composeSetup(std::move(setup));
    } catch (const std::exception& error) {
        return complain(QString::fromUtf8(error.what()));
    }
    if (const QStringList missing = missingValues(setup); !missing.isEmpty())
        return complain(tr("Still missing: %1. Add these values to the parts, then come back.")
                            .arg(missing.join(QStringLiteral(", "))));
    setup_ = std::move(setup);
    QDialog::accept();
}

} // namespace rw
