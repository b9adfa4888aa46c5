#include "app/desktop/garage/garage_actions.h"

#include "app/desktop/garage/part_dialog.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/pick_dialog.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/review/thresholds.h"
#include "storage/own_limits.h"

#include <QAction>
#include <QMessageBox>

namespace rw {

GarageActions::GarageActions(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen,
                             std::function<ItemKind()> kind, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window)
    , chosen_(std::move(chosen))
    , kind_(std::move(kind))
    , steps_(new GarageSteps(desk, this)) {
    const auto make = [this](const QString& text, const QString& tip, void (GarageActions::*does)(),
                             const QKeySequence& keys = {}) {
        return action(
            this, text, tip, [this, does] { (this->*does)(); }, keys);
    };
    add_ = make(tr("&Add a part or vehicle…"), tr("A new vehicle, pack, motor or what is chosen on the left"),
                &GarageActions::addPart, QKeySequence::New);
    addSetup_ = make(tr("New &setup from parts…"),
                     tr("A vehicle with motor, controller, pack, tyre and gears, ready to plan with"),
                     &GarageActions::addSetup, Qt::CTRL | Qt::SHIFT | Qt::Key_N);
    rename_ = make(tr("&Name and notes…"), tr("What it is called, and what there is to say of it"),
                   &GarageActions::rename, Qt::Key_F2);
    addValue_ = make(tr("Add a &value…"), tr("One more number of this part"), &GarageActions::addValue);
    takeLimits_ = make(tr("Take these li&mits on the bench"),
                       tr("This set's limits over those of what lies on the bench; undo takes them back"),
                       &GarageActions::takeLimits);
    duplicate_ = make(tr("&Duplicate…"), {}, &GarageActions::duplicate);
    retire_ = make(tr("&Retire or take back"), tr("Kept for its history, left out of lists"), &GarageActions::retire);
    remove_ = make(tr("De&lete…"), tr("Only what nothing refers to; can be undone"), &GarageActions::remove);
    refresh();
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

std::optional<Part> GarageActions::chosenPart() {
    const auto id = chosen_();
    if (!id || !isPart(id->kind)) return std::nullopt;
    return desk_.garage.answer([&](Garage& garage) { return garage.part(*id); });
}

void GarageActions::addPart() {
    PartDialog dialog(isPart(kind_()) ? kind_() : ItemKind::Vehicle, desk_.units, window_);
    if (dialog.exec() != QDialog::Accepted) return;
    Id id = dialog.part().id;
    for (const Part& part : dialog.parts())
        if (!desk_.garage.change(tr("Adding the %1").arg(kindSingular(part.id.kind)),
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
    if (!desk_.garage.change(tr("Adding the setup"),
                             [&](Garage& garage) { static_cast<void>(garage.addSetup(setup)); }))
        return;
    emit made(setup.vehicle);
    emit desk_.voice.said(
        tr("“%1” is ready: put it on the bench to plan with it.").arg(QString::fromStdString(setup.name)));
}

// Others may have changed it while the dialog was open: only what was typed here is written.
void GarageActions::rename() {
    const auto id = chosen_();
    if (!id || (!isPart(id->kind) && id->kind != ItemKind::Outing)) return;
    std::unique_ptr<NameDialog> dialog;
    desk_.garage.look([&](Garage& garage) {
        dialog = isPart(id->kind) ? std::make_unique<NameDialog>(garage.part(*id), window_)
                                  : std::make_unique<NameDialog>(garage.outing(*id), window_);
    });
    if (!dialog || dialog->exec() != QDialog::Accepted) return;
    const auto named = [&](auto now) {
        now.name = dialog->name();
        now.notes = dialog->notes();
        return now;
    };
    if (isPart(id->kind))
        desk_.garage.change(tr("Renaming"), [&](Garage& garage) {
            Part now = named(garage.part(*id));
            now.description = dialog->description();
            garage.update(now);
        });
    else
        desk_.garage.change(tr("Naming the outing"),
                            [&](Garage& garage) { garage.updateOuting(named(garage.outing(*id))); });
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
        if (desk_.garage.change(tr("Changing %1").arg(keyLabel(key)), [&](Garage& garage) { garage.update(*part); }))
            return;
        dialog.complain(tr("It was not saved; the notice in the window says why. What you typed is still here."));
    }
}

void GarageActions::addValue() {
    const std::optional<Part> part = chosenPart();
    if (!part) return;
    std::vector<PickRow> rows;
    for (const PlanField& field : planFields())
        if (keyFits(field, part->id.kind) && !part->values.contains(field.key()))
            rows.push_back(
                {QString::fromStdString(field.key()), keyLabel(field.key()), QString::fromUtf8(field.meaning)});
    if (part->id.kind == ItemKind::LimitSet)
        for (const ThresholdField& field : thresholdFields())
            if (const std::string key = thresholdKey(field.name); !part->values.contains(key))
                rows.push_back({QString::fromStdString(key), keyLabel(key), keyHelp(key, desk_.units)});
    const QString key = pickOne(window_, tr("Add a value to %1").arg(QString::fromStdString(part->name)),
                                {tr("Which"), rows, tr("It has every value that this kind of part can have.")});
    if (!key.isEmpty()) editValue(key.toStdString());
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
        emit desk_.voice.complained(tr("Limits"), withLabels(QString::fromStdString(error.message())));
    }
}

void GarageActions::duplicate() {
    const std::optional<Part> part = chosenPart();
    if (!part) return;
    const QString name = askForName(window_, tr("Duplicate"), tr("Name of the copy"),
                                    tr("%1, copy").arg(QString::fromStdString(part->name)));
    if (name.isEmpty()) return;
    Id copy = part->id;
    if (desk_.garage.change(tr("Duplicating"),
                            [&](Garage& garage) { copy = garage.duplicate(part->id, name.toStdString()); }))
        emit made(copy);
}

void GarageActions::retire() {
    const auto id = chosen_();
    if (!id) return;
    const std::optional<Part> part = chosenPart();
    const bool retired = part && part->retired;
    desk_.garage.change(retired ? tr("Taking back") : tr("Retiring"),
                        [&](Garage& garage) { garage.retire(*id, !retired); });
}

void GarageActions::remove() {
    const auto id = chosen_();
    if (!id) return;
    const auto users = desk_.garage.answer([&](Garage& garage) { return garage.referredToBy(*id); });
    if (!users) return;
    if (!users->empty())
        return emit desk_.voice.complained(
            tr("Delete"), tr("It is used by %1, so it cannot be deleted. Retire it instead: it keeps its history and "
                             "leaves the lists.")
                              .arg(counted(users->size(), tr("other thing"), tr("other things"))));
    const auto answer = QMessageBox::question(window_, tr("Delete"), tr("Delete it? This can be undone."),
                                              QMessageBox::Yes | QMessageBox::Cancel, QMessageBox::Cancel);
    if (answer != QMessageBox::Yes) return;
    const auto removal = [id = *id](Garage& garage) { garage.remove(id); };
    if (id->kind == ItemKind::Log) // its bytes go into the step that can be undone
        steps_->changeBeside(tr("Deleting"), removal);
    else
        desk_.garage.change(tr("Deleting"), removal);
}

void GarageActions::putOnBench(Id setup) {
    try {
        const std::vector<Part> venues = desk_.garage.garage().parts(ItemKind::Venue);
        if (venues.empty())
            return emit desk_.voice.complained(
                tr("Put on the bench"),
                tr("A plan needs a venue: add one first, with its length, run-up and timed zone."));
        Id venue = venues.front().id;
        if (venues.size() > 1) {
            const auto id = idFromText(pickOne(window_, tr("Where will it run?"),
                                               {tr("Venue"), partRows(desk_.garage.garage(), ItemKind::Venue), {}})
                                           .toStdString());
            if (!id) return;
            venue = *id;
        }
        desk_.bench.put(benchFromSetup(desk_.garage.garage(), setup, venue));
        emit benched();
    } catch (const std::exception& error) {
        emit desk_.voice.complained(tr("Put on the bench"), QString::fromUtf8(error.what()));
    }
}

} // namespace rw
