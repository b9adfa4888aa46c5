#include "app/desktop/review/accept_dialog.h"

#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/labels.h"
#include "core/plan/plan_fields.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <set>

namespace rw {

namespace {

// Labels of what was determined of a kind of part.
QStringList learnedOf(const LearnReport& report, ItemKind kind) {
    QStringList labels;
    for (const LearnedParameter& one : report.parameters) {
        const PlanField* field = findPlanField(one.key);
        if (one.determined && field != nullptr && keyFits(*field, kind)) labels << fieldLabel(*field);
    }
    return labels;
}

// Vehicles, other than the setup's own, whose setups hold the part.
QStringList othersWith(Garage& garage, const Setup& setup, Id part) {
    std::set<Id> vehicles;
    for (const Setup& other : garage.setups())
        if (other.vehicle != setup.vehicle &&
            (other.motor == part || other.controller == part || other.pack == part || other.tyre == part))
            vehicles.insert(other.vehicle);
    QStringList names;
    for (const Id vehicle : vehicles)
        names << QString::fromStdString(garage.part(vehicle).name);
    return names;
}

} // namespace

AcceptDialog::AcceptDialog(Garage& garage, const DayTaught& day, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Keep what was learned"));
    setMinimumWidth(58 * gridStep);
    const Setup setup = garage.setup(*day.data->context.setup);
    auto* column = dialogColumn(*this);
    auto* words = new TextLabel(tr("%1 gets a new revision with the learned values and how sure they are, marked as "
                                   "fitted. What was typed or measured stays in the history; one undo brings it back.")
                                    .arg(QString::fromStdString(setup.name)),
                                Type::Body);
    words->setWordWrap(true);
    column->addWidget(words);
    auto* parts = new TextLabel(tr("Change the parts themselves too? Setups made from them later begin with it."),
                                Type::Body, Tone::Soft);
    parts->setWordWrap(true);
    column->addWidget(parts);
    for (const Id part : {setup.vehicle, setup.tyre, setup.motor, setup.controller, setup.pack})
        addPart(garage, setup, part, day.report);
    parts->setVisible(!parts_.empty());
    auto* form = new QFormLayout;
    reason_ = new QLineEdit(tr("learned from %1").arg(QString::fromStdString(day.data->source.path)));
    reason_->setAccessibleName(tr("Why"));
    form->addRow(tr("&Why"), reason_);
    column->addLayout(form);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Keep")));
}

void AcceptDialog::addPart(Garage& garage, const Setup& setup, Id part, const LearnReport& report) {
    const QStringList learned = part.stored() ? learnedOf(report, part.kind) : QStringList();
    if (learned.isEmpty()) return;
    const QStringList others = othersWith(garage, setup, part);
    QString text = QStringLiteral("%1 “%2”: %3")
                       .arg(kindSingular(part.kind), QString::fromStdString(garage.part(part).name),
                            learned.join(QStringLiteral(", ")));
    if (!others.isEmpty()) text += tr(" · serves %1 too").arg(others.join(QStringLiteral(", ")));
    auto* box = new QCheckBox(text.replace(u'&', QStringLiteral("&&")));
    box->setChecked(others.isEmpty());
    layout()->addWidget(box);
    parts_.push_back({part, box});
}

FitAcceptance AcceptDialog::acceptance() const {
    FitAcceptance out;
    out.reason = reason_->text().trimmed().toStdString();
    for (const Asked& one : parts_)
        if (one.box->isChecked()) out.parts.push_back(one.part);
    return out;
}

} // namespace rw
