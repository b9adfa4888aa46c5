#include "app/desktop/garage/garage_actions.h"

#include "app/desktop/garage/part_dialog.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/pick_dialog.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/review/thresholds.h"
#include "storage/own_limits.h"

#include <QAction>
#include <QInputDialog>
#include <QMessageBox>

namespace rw {

GarageActions::GarageActions(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen,
                             std::function<ItemKind()> kind, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window)
    , chosen_(std::move(chosen))
    , kind_(std::move(kind))
    , steps_(new GarageSteps(desk.garage, desk.jobs, this)) {
    add_ = make(tr("&Add a part or vehicle…"), tr("A new vehicle, pack, motor or what is chosen on the left"),
                &GarageActions::addPart);
    add_->setShortcut(QKeySequence::New);
    addSetup_ = make(tr("New &setup from parts…"),
                     tr("A vehicle with motor, controller, pack, tyre and gears, ready to plan with"),
                     &GarageActions::addSetup);
    addSetup_->setShortcut(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_N));
    rename_ =
        make(tr("&Name and notes…"), tr("What it is called, and what there is to say of it"), &GarageActions::rename);
    rename_->setShortcut(Qt::Key_F2);
    addValue_ = make(tr("Add a &value…"), tr("One more number of this part"), &GarageActions::addValue);
    takeLimits_ = make(tr("Take these li&mits on the bench"),
                       tr("This set's limits over those of what lies on the bench; undo takes them back"),
                       &GarageActions::takeLimits);
    duplicate_ = make(tr("&Duplicate…"), {}, &GarageActions::duplicate);
    retire_ = make(tr("&Retire or take back"), tr("Kept for its history, left out of lists"), &GarageActions::retire);
    remove_ = make(tr("De&lete…"), tr("Only what nothing refers to; can be undone"), &GarageActions::remove);
    connect(steps_, &GarageSteps::complained, this, &GarageActions::complained);
    refresh();
}

QAction* GarageActions::make(const QString& text, const QString& tip, void (GarageActions::*slot)()) {
    auto* action = new QAction(text, this);
    action->setStatusTip(tip);
    if (!tip.isEmpty()) action->setToolTip(tip);
    connect(action, &QAction::triggered, this, slot);
    return action;
}

QList<QAction*> GarageActions::partActions() const {
    return {add_, addSetup_, rename_, addValue_, takeLimits_, duplicate_, retire_, remove_};
}

void GarageActions::refresh() {
    const bool open = desk_.garage.writable();
    std::optional<Id> id;
    if (open) id = chosen_();
    const ItemKind kind = id ? id->kind : ItemKind::Log; // a log is no part
    const bool part = isPart(kind);
    for (QAction* action : {add_, addSetup_})
        action->setEnabled(open);
    duplicate_->setEnabled(part);
    takeLimits_->setEnabled(kind == ItemKind::LimitSet && !desk_.bench.empty());
    rename_->setEnabled(part || kind == ItemKind::Outing);
    addValue_->setEnabled(part && kind != ItemKind::Checklist && kind != ItemKind::ColumnMap);
    for (QAction* action : {retire_, remove_})
        action->setEnabled(id.has_value());
}

bool GarageActions::change(const QString& what, const std::function<void(Garage&)>& action) {
    return desk_.garage.change(what, action);
}

std::optional<Part> GarageActions::chosenPart() {
    const auto id = chosen_();
    std::optional<Part> part;
    if (id && isPart(id->kind)) desk_.garage.look([&](Garage& garage) { part = garage.part(*id); });
    return part;
}

void GarageActions::addPart() {
    PartDialog dialog(isPart(kind_()) ? kind_() : ItemKind::Vehicle, desk_.units, window_);
    if (dialog.exec() != QDialog::Accepted) return;
    Id id = dialog.part().id;
    for (const Part& part : dialog.parts())
        if (!change(tr("Adding the %1").arg(kindSingular(part.id.kind)),
                    [&](Garage& garage) { id = garage.add(part); }))
            return;
    emit made(id);
}

void GarageActions::addSetup() {
    std::unique_ptr<SetupDialog> dialog;
    if (!desk_.garage.look([&](Garage& garage) { dialog = std::make_unique<SetupDialog>(garage, chosen_(), window_); }))
        return;
    if (dialog->exec() != QDialog::Accepted) return;
    const Setup setup = dialog->setup();
    if (!change(tr("Adding the setup"), [&](Garage& garage) { static_cast<void>(garage.addSetup(setup)); })) return;
    emit made(setup.vehicle);
    emit said(tr("“%1” is ready: put it on the bench to plan with it.").arg(QString::fromStdString(setup.name)));
}

void GarageActions::renameOuting(Id id) {
    std::optional<Outing> outing;
    if (!desk_.garage.look([&](Garage& garage) { outing = garage.outing(id); })) return;
    NameDialog dialog(*outing, window_);
    if (dialog.exec() != QDialog::Accepted) return;
    change(tr("Naming the outing"), [&](Garage& garage) {
        Outing now = garage.outing(id);
        now.name = dialog.name();
        now.notes = dialog.notes();
        garage.updateOuting(now);
    });
}

void GarageActions::rename() {
    if (const auto id = chosen_(); id && id->kind == ItemKind::Outing) return renameOuting(*id);
    std::optional<Part> part = chosenPart();
    if (!part) return;
    NameDialog dialog(*part, window_);
    if (dialog.exec() != QDialog::Accepted) return;
    change(tr("Renaming"), [&](Garage& garage) {
        Part now = garage.part(part->id); // its values may have changed meanwhile
        now.name = dialog.name();
        now.description = dialog.description();
        now.notes = dialog.notes();
        garage.update(now);
    });
}

// What another window wrote while the dialog was open is kept: only this one value is written, and where just that one
// changed, the person decides.
void GarageActions::editValue(const std::string& key) {
    std::optional<Part> part = desk_.garage.writable() ? chosenPart() : std::nullopt;
    if (!part) return;
    const auto valueIn = [&key](const Part& p) {
        const auto found = p.values.find(key);
        return found == p.values.end() ? Value() : found->second;
    };
    ValueDialog dialog(key, valueIn(*part), desk_.units, window_);
    for (Value before = valueIn(*part); dialog.exec() == QDialog::Accepted;) {
        const std::optional<Part> fresh = chosenPart();
        if (!fresh) {
            dialog.complain(tr("It was not saved; the notice in the window says why. What you typed is still here."));
            continue;
        }
        part = fresh;
        const Value now = valueIn(*part);
        if (now != before) {
            dialog.complain(tr("Another window changed this to %1 meanwhile. Save again to keep yours, or cancel.")
                                .arg(valueText(key, now, desk_.units)));
            before = now;
            continue;
        }
        part->values[key] = dialog.value();
        if (change(tr("Changing %1").arg(keyLabel(key)), [&](Garage& garage) { garage.update(*part); })) return;
        dialog.complain(tr("It was not saved; the notice in the window says why. What you typed is still here."));
    }
}

void GarageActions::addValue() {
    const std::optional<Part> part = chosenPart();
    if (!part) return;
    PickDialog pick(tr("Add a value to %1").arg(QString::fromStdString(part->name)), window_);
    std::vector<PickRow> rows;
    for (const PlanField& field : planFields())
        if (keyFits(field, part->id.kind) && !part->values.contains(field.key()))
            rows.push_back(
                {QString::fromStdString(field.key()), keyLabel(field.key()), QString::fromUtf8(field.meaning)});
    if (part->id.kind == ItemKind::LimitSet)
        for (const ThresholdField& field : thresholdFields())
            if (const std::string key = thresholdKey(field.name); !part->values.contains(key))
                rows.push_back({QString::fromStdString(key), keyLabel(key), keyHelp(key, desk_.units)});
    pick.addList(tr("Which"), rows, tr("It has every value that this kind of part can have."));
    if (pick.exec() == QDialog::Accepted && !pick.picked(0).isEmpty()) editValue(pick.picked(0).toStdString());
}

void GarageActions::takeLimits() {
    const std::optional<Part> set = chosenPart();
    if (!set || desk_.bench.empty()) return;
    PlanInput plan = *desk_.bench.content().input;
    try {
        Values limits;
        if (!desk_.garage.look([&](Garage& garage) { limits = ownLimits(garage, set->id, set->name); })) return;
        putLimits(limits, set->name, plan);
        desk_.bench.suggest(plan, tr("limits of %1").arg(QString::fromStdString(set->name)));
        emit benched();
    } catch (const InputError& error) {
        emit complained(tr("Limits"), withLabels(QString::fromStdString(error.message())));
    }
}

void GarageActions::duplicate() {
    const std::optional<Part> part = chosenPart();
    if (!part) return;
    bool ok = false;
    const QString was = QString::fromStdString(part->name);
    const QString name = QInputDialog::getText(window_, tr("Duplicate"), tr("Name of the copy"), QLineEdit::Normal,
                                               tr("%1, copy").arg(was), &ok);
    if (!ok || name.trimmed().isEmpty()) return;
    Id copy = part->id;
    if (change(tr("Duplicating"),
               [&](Garage& garage) { copy = garage.duplicate(part->id, name.trimmed().toStdString()); }))
        emit made(copy);
}

void GarageActions::retire() {
    const auto id = chosen_();
    if (!id) return;
    const std::optional<Part> part = chosenPart();
    const bool retired = part && part->retired;
    change(retired ? tr("Taking back") : tr("Retiring"), [&](Garage& garage) { garage.retire(*id, !retired); });
}

void GarageActions::remove() {
    const auto id = chosen_();
    if (!id) return;
    std::vector<Id> users;
    if (!desk_.garage.look([&](Garage& garage) { users = garage.referredToBy(*id); })) return;
    if (!users.empty()) {
        emit complained(tr("Delete"), tr("It is used by %1, so it cannot be deleted. Retire it instead: it keeps its "
                                         "history and leaves the lists.")
                                          .arg(counted(users.size(), tr("other thing"), tr("other things"))));
        return;
    }
    const auto answer = QMessageBox::question(window_, tr("Delete"), tr("Delete it? This can be undone."),
                                              QMessageBox::Yes | QMessageBox::Cancel, QMessageBox::Cancel);
    if (answer != QMessageBox::Yes) return;
    const auto removal = [id = *id](Garage& garage) { garage.remove(id); };
    if (id->kind == ItemKind::Log) // its bytes go into the step that can be undone
        steps_->changeBeside(tr("Deleting"), removal);
    else
        change(tr("Deleting"), removal);
}

void GarageActions::putOnBench(Id setup) {
    try {
        const std::vector<Part> venues = desk_.garage.garage().parts(ItemKind::Venue);
        if (venues.empty()) {
            emit complained(tr("Put on the bench"),
                            tr("A plan needs a venue: add one first, with its length, run-up and timed zone."));
            return;
        }
        Id venue = venues.front().id;
        if (venues.size() > 1) {
            PickDialog pick(tr("Where will it run?"), window_);
            pick.addList(tr("Venue"), partRows(desk_.garage.garage(), ItemKind::Venue), {});
            pick.pick(0, QString::fromStdString(toString(venue)));
            if (pick.exec() != QDialog::Accepted) return;
            if (const auto id = idFromText(pick.picked(0).toStdString())) venue = *id;
        }
        desk_.bench.put(benchFromSetup(desk_.garage.garage(), setup, venue));
        emit benched();
    } catch (const std::exception& error) {
        emit complained(tr("Put on the bench"), QString::fromUtf8(error.what()));
    }
}

} // namespace rw
