#include "app/desktop/garage/garage_actions.h"

#include "app/desktop/bench_source.h"
#include "app/desktop/garage/garage_text.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/garage_session.h"
#include "app/desktop/pick_dialog.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"

#include <QAction>
#include <QFile>
#include <QFileDialog>
#include <QInputDialog>
#include <QMessageBox>
#include <QSaveFile>
#include <QUndoStack>

namespace rw {

namespace {

constexpr qint64 largestDocument = 256LL * 1024 * 1024;  // bytes of an exchange document; the garage has its own limits too

// One step of the garage's own history. The change itself is made before the command is pushed.
class GarageStep : public QUndoCommand {
public:
    GarageStep(GarageSession& session, const std::string& words, std::function<void(const QString&)> refused)
        : QUndoCommand(QString::fromStdString(words))
        , session_(session)
        , words_(words)
        , refused_(std::move(refused)) {}
    void redo() override {
        if (!std::exchange(pushed_, true)) return;
        step(true);
    }
    void undo() override { step(false); }

private:
    void step(bool forward) {
        if (!session_.isOpen()) return;
        const auto next = forward ? session_.garage().redoText() : session_.garage().undoText();
        if (!next || *next != words_) {
            refused_(QObject::tr("Something else in the garage changed meanwhile, so this step is left as it is."));
            return;
        }
        session_.attempt(forward ? QObject::tr("Redo") : QObject::tr("Undo"),
                         [forward](Garage& garage) { forward ? garage.redo() : garage.undo(); });
    }
    GarageSession& session_;
    std::string words_;
    std::function<void(const QString&)> refused_;
    bool pushed_ = false;
};

bool keyFits(const PlanField& field, ItemKind kind) {
    const std::string_view group = field.group;
    switch (kind) {
    case ItemKind::Vehicle: return group == "vehicle";
    case ItemKind::Tyre: return group == "tyre";
    case ItemKind::Motor: return group == "motor";
    case ItemKind::Controller: return group.starts_with("controller");
    case ItemKind::Pack: return group == "pack";
    case ItemKind::Venue: return group == "venue" || group == "air" || group == "wind";
    case ItemKind::Gear: return group == "gears" && field.kind != FieldKind::WholeList;
    case ItemKind::LimitSet: return true;
    default: return false;
    }
}

} // namespace

GarageActions::GarageActions(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen,
                             std::function<ItemKind()> kind, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window)
    , chosen_(std::move(chosen))
    , kind_(std::move(kind))
    , undo_(new QUndoStack(this)) {
    add_ = make(tr("Add…"), tr("A new vehicle, pack, motor or what is chosen on the left"), &GarageActions::addPart);
    rename_ = make(tr("Name and description…"), {}, &GarageActions::rename);
    addValue_ = make(tr("Add a value…"), tr("One more number of this part"), &GarageActions::addValue);
    duplicate_ = make(tr("Duplicate…"), {}, &GarageActions::duplicate);
    retire_ = make(tr("Retire or take back"), tr("Kept for its history, left out of lists"), &GarageActions::retire);
    remove_ = make(tr("Delete…"), tr("Only what nothing refers to; can be undone"), &GarageActions::remove);
    export_ = make(tr("Export what is chosen…"), tr("One document with all that it refers to"), &GarageActions::exportItem);
    import_ = make(tr("Import a document…"), tr("Adds what is new, overwrites nothing"), &GarageActions::importItem);
    csv_ = make(tr("Passes as CSV…"), {}, &GarageActions::exportCsv);
    backup_ = make(tr("Back up now"), tr("A dated, checked copy beside the garage; the newest ten are kept"), &GarageActions::backup);
    restore_ = make(tr("Restore a backup…"), tr("What is here now is backed up first"), &GarageActions::restore);
    connect(&desk_.garage, &GarageSession::opened, undo_, &QUndoStack::clear);
    refresh();
}

QAction* GarageActions::make(const QString& text, const QString& tip, void (GarageActions::*slot)()) {
    auto* action = new QAction(text, this);
    action->setStatusTip(tip);
    action->setToolTip(tip.isEmpty() ? text : tip);
    connect(action, &QAction::triggered, this, slot);
    return action;
}

QList<QAction*> GarageActions::partActions() const {
    return {add_, rename_, addValue_, duplicate_, retire_, remove_};
}
QList<QAction*> GarageActions::fileActions() const { return {export_, import_, csv_, backup_, restore_}; }

void GarageActions::refresh() {
    const bool open = desk_.garage.isOpen() && desk_.garage.writable();
    const auto id = open ? chosen_() : std::nullopt;
    const bool part = id && isPart(id->kind);
    add_->setEnabled(open);
    for (QAction* action : {rename_, duplicate_}) action->setEnabled(part);
    addValue_->setEnabled(part && id->kind != ItemKind::Checklist && id->kind != ItemKind::ColumnMap);
    for (QAction* action : {retire_, remove_}) action->setEnabled(id.has_value());
    export_->setEnabled(desk_.garage.isOpen() && chosen_().has_value());
    csv_->setEnabled(desk_.garage.isOpen());
    for (QAction* action : {import_, backup_, restore_}) action->setEnabled(open);
}

bool GarageActions::change(const QString& what, const std::function<void(Garage&)>& action) {
    if (!desk_.garage.attempt(what, action)) return false;
    if (const auto words = desk_.garage.garage().undoText())
        undo_->push(new GarageStep(desk_.garage, *words, [this](const QString& s) { emit complained(tr("Undo"), s); }));
    return true;
}

void GarageActions::addPart() {
    const ItemKind kind = isPart(kind_()) ? kind_() : ItemKind::Vehicle;
    bool ok = false;
    const QString name = QInputDialog::getText(window_, tr("New %1").arg(kindSingular(kind)), tr("Name"), QLineEdit::Normal, {}, &ok);
    if (!ok || name.trimmed().isEmpty()) return;
    Part part;
    part.id = {kind, 0};
    part.name = name.trimmed().toStdString();
    Id id = part.id;
    if (change(tr("Adding the %1").arg(kindSingular(kind)), [&](Garage& garage) { id = garage.add(part); })) emit made(id);
}

void GarageActions::rename() {
    const auto id = chosen_();
    if (!id) return;
    Part part = desk_.garage.garage().part(*id);
    bool ok = false;
    const QString name = QInputDialog::getText(window_, tr("Name"), tr("Name"), QLineEdit::Normal, QString::fromStdString(part.name), &ok);
    if (!ok || name.trimmed().isEmpty()) return;
    const QString line = QInputDialog::getText(window_, tr("Description"), tr("One line for lists"), QLineEdit::Normal,
                                               QString::fromStdString(part.description), &ok);
    if (!ok) return;
    part.name = name.trimmed().toStdString();
    part.description = line.trimmed().toStdString();
    change(tr("Renaming"), [&](Garage& garage) { garage.update(part); });
}

void GarageActions::editValue(const std::string& key) {
    const auto id = chosen_();
    if (!id || !isPart(id->kind) || !desk_.garage.writable()) return;
    Part part = desk_.garage.garage().part(*id);
    ValueDialog dialog(key, part.values[key], desk_.units, window_);
    if (dialog.exec() != QDialog::Accepted) return;
    part.values[key] = dialog.value();
    change(tr("Changing %1").arg(keyLabel(key)), [&](Garage& garage) { garage.update(part); });
}

void GarageActions::addValue() {
    const auto id = chosen_();
    if (!id) return;
    const Part part = desk_.garage.garage().part(*id);
    PickDialog pick(tr("Add a value to %1").arg(QString::fromStdString(part.name)), window_);
    std::vector<PickRow> rows;
    for (const PlanField& field : planFields())
        if (keyFits(field, id->kind) && !part.values.contains(field.key()))
            rows.push_back({QString::fromStdString(field.key()), keyLabel(field.key()), fromUtf8(field.meaning)});
    pick.addList(tr("Which"), rows, tr("It has every value that this kind of part can have."));
    if (pick.exec() == QDialog::Accepted && !pick.picked(0).isEmpty()) editValue(pick.picked(0).toStdString());
}

void GarageActions::duplicate() {
    const auto id = chosen_();
    if (!id) return;
    bool ok = false;
    const QString was = QString::fromStdString(desk_.garage.garage().part(*id).name);
    const QString name = QInputDialog::getText(window_, tr("Duplicate"), tr("Name of the copy"), QLineEdit::Normal, tr("%1, copy").arg(was), &ok);
    if (!ok || name.trimmed().isEmpty()) return;
    Id copy = *id;
    if (change(tr("Duplicating"), [&](Garage& garage) { copy = garage.duplicate(*id, name.trimmed().toStdString()); }))
        emit made(copy);
}

void GarageActions::retire() {
    const auto id = chosen_();
    if (!id) return;
    const bool retired = isPart(id->kind) && desk_.garage.garage().part(*id).retired;
    change(retired ? tr("Taking back") : tr("Retiring"), [&](Garage& garage) { garage.retire(*id, !retired); });
}

void GarageActions::remove() {
    const auto id = chosen_();
    if (!id) return;
    const std::vector<Id> users = desk_.garage.garage().referredToBy(*id);
    if (!users.empty()) {
        emit complained(tr("Delete"), tr("%n thing(s) refer to it, so it cannot be deleted. Retire it instead: it keeps its "
                                         "history and leaves the lists.", nullptr, static_cast<int>(users.size())));
        return;
    }
    const auto answer = QMessageBox::question(window_, tr("Delete"), tr("Delete it? This can be undone."),
                                              QMessageBox::Yes | QMessageBox::Cancel, QMessageBox::Cancel);
    if (answer == QMessageBox::Yes) change(tr("Deleting"), [&](Garage& garage) { garage.remove(*id); });
}

void GarageActions::exportItem() {
    const auto id = chosen_();
    if (!id) return;
    const QString path = QFileDialog::getSaveFileName(window_, tr("Export"), QString::fromStdString(toString(*id)) + QStringLiteral(".json"),
                                                      tr("Exchange document (*.json)"));
    if (path.isEmpty()) return;
    try {
        QSaveFile file(path);
        const std::string document = desk_.garage.garage().exportItem(*id);
        if (!file.open(QIODevice::WriteOnly) || file.write(document.data(), static_cast<qint64>(document.size())) < 0 || !file.commit())
            throw InputError(path.toStdString(), tr("cannot be written: %1").arg(file.errorString()).toStdString());
        emit said(tr("Exported to %1.").arg(path));
    } catch (const std::exception& error) {
        emit complained(tr("Export"), QString::fromUtf8(error.what()));
    }
}

void GarageActions::importItem() {
    const QString path = QFileDialog::getOpenFileName(window_, tr("Import"), {}, tr("Exchange document (*.json)"));
    if (!path.isEmpty()) importFile(path);
}

void GarageActions::importFile(const QString& path) {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly) || file.size() > largestDocument) {
        emit complained(tr("Import"), file.isOpen() ? tr("%1 is larger than any exchange document.").arg(path)
                                                    : tr("%1 cannot be read: %2").arg(path, file.errorString()));
        return;
    }
    const std::string document = file.readAll().toStdString();
    ImportedItems items;
    if (!change(tr("Import"), [&](Garage& garage) { items = garage.importItems(document, path.toStdString()); })) return;
    emit said(tr("%1 added, %2 were there already.").arg(items.added.size()).arg(items.alreadyThere.size()));
    emit made(items.root);
}

void GarageActions::exportCsv() {
    PassFilter filter;
    if (const auto id = chosen_()) {
        if (id->kind == ItemKind::Vehicle) filter.vehicle = *id;
        if (id->kind == ItemKind::Pack) filter.pack = *id;
        if (id->kind == ItemKind::Motor) filter.motor = *id;
    }
    const QString path = QFileDialog::getSaveFileName(window_, tr("Passes as CSV"), QStringLiteral("passes.csv"), tr("CSV (*.csv)"));
    if (path.isEmpty()) return;
    QSaveFile file(path);
    const std::string text = desk_.garage.garage().passesCsv(filter);
    if (!file.open(QIODevice::WriteOnly) || file.write(text.data(), static_cast<qint64>(text.size())) < 0 || !file.commit())
        emit complained(tr("Passes as CSV"), tr("%1 cannot be written: %2").arg(path, file.errorString()));
    else
        emit said(tr("Written to %1.").arg(path));
}

void GarageActions::backup() {
    std::string path;
    if (desk_.garage.attempt(tr("Backup"), [&](Garage& garage) { path = garage.backupNow(); }))
        emit said(tr("Backed up to %1.").arg(QString::fromStdString(path)));
}

void GarageActions::restore() {
    PickDialog pick(tr("Restore a backup"), window_);
    std::vector<PickRow> rows;
    for (const BackupInfo& info : desk_.garage.garage().backups())
        rows.push_back({QString::fromStdString(info.path), dateText(info.when), QString::fromStdString(info.when)});
    pick.addList(tr("Backups, newest first"), rows, tr("There is no backup yet. “Back up now” makes one."));
    if (pick.exec() != QDialog::Accepted || pick.picked(0).isEmpty()) return;
    if (desk_.garage.attempt(tr("Restore"), [&](Garage& garage) { garage.restore(pick.picked(0).toStdString()); })) {
        undo_->clear();
        emit said(tr("Restored; what was here is kept as the newest backup."));
    }
}

void GarageActions::putOnBench(Id setup) {
    try {
        const std::vector<Part> venues = desk_.garage.garage().parts(ItemKind::Venue);
        if (venues.empty()) {
            emit complained(tr("Put on the bench"), tr("A plan needs a venue: add one first, with its length, run-up and timed zone."));
            return;
        }
        Id venue = venues.front().id;
        if (venues.size() > 1) {
            PickDialog pick(tr("Where will it run?"), window_);
            std::vector<PickRow> rows;
            for (const Part& part : venues)
                rows.push_back({QString::fromStdString(toString(part.id)), QString::fromStdString(part.name), QString::fromStdString(part.description)});
            pick.addList(tr("Venue"), rows, {});
            pick.pick(0, rows.front().id);
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
