#include "app/desktop/garage/garage_files.h"

#include "app/desktop/garage/part_history.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/pick_dialog.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/stopped.h"

#include <QAction>
#include <QDir>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QSaveFile>

#include <utility>

namespace rw {

namespace {

constexpr qint64 largestDocument =
    256LL * 1024 * 1024; // bytes of an exchange document; the garage has its own limits too
const QString folderChoice = QStringLiteral("folder");

QString nativeName(const QString& path) { return QDir::toNativeSeparators(path); }

// Whole under its name, or not at all: QSaveFile writes beside it first.
void writeFile(const QString& path, const std::string& text, const std::stop_token& stop) {
    QSaveFile file(path);
    const bool written =
        file.open(QIODevice::WriteOnly) && file.write(text.data(), static_cast<qint64>(text.size())) >= 0;
    throwIfStopped(stop);
    if (!written || !file.commit())
        throw InputError(path.toStdString(),
                         GarageFiles::tr("cannot be written: %1").arg(file.errorString()).toStdString());
}

std::string readDocument(const QString& path) {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly))
        throw InputError(path.toStdString(),
                         GarageFiles::tr("cannot be read: %1").arg(file.errorString()).toStdString());
    if (file.size() > largestDocument)
        throw InputError(path.toStdString(), GarageFiles::tr("is larger than any exchange document").toStdString());
    return file.readAll().toStdString();
}

} // namespace

GarageFiles::GarageFiles(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window)
    , chosen_(std::move(chosen))
    , runner_(desk.jobs) {
    const auto make = [this](const QString& text, const QString& tip, void (GarageFiles::*does)()) {
        return action(this, text, tip, [this, does] { (this->*does)(); });
    };
    export_ =
        make(tr("E&xport what is chosen…"), tr("One document with all that it refers to"), &GarageFiles::askExport);
    import_ = make(tr("&Import a document…"), tr("Adds what is new, overwrites nothing"), &GarageFiles::askImport);
    csv_ = make(tr("Passes as &CSV…"), tr("Every figure of every pass of what is chosen, one pass a line"),
                &GarageFiles::askCsv);
    copy_ = make(tr("&Keep a copy…"), tr("The whole garage as another file, checked"), &GarageFiles::askCopy);
    backup_ = make(tr("&Back up now"), tr("A dated, checked copy beside the garage; the newest ten are kept"),
                   &GarageFiles::backup);
    restore_ = make(tr("Restore a back&up…"), tr("What is here now is backed up first"), &GarageFiles::askRestore);
    connect(&runner_, &JobRunner::busyChanged, this, &GarageFiles::refresh);
    refresh();
}

void GarageFiles::refresh() {
    GarageSession& garage = desk_.garage;
    const bool free = garage.isOpen() && !busy(), here = free && garage.inPlace();
    export_->setEnabled(here && chosen_().has_value());
    csv_->setEnabled(here);
    copy_->setEnabled(free);
    for (QAction* action : {import_, backup_, restore_})
        action->setEnabled(here && garage.writable());
}

void GarageFiles::run(const QString& what, Work work, std::function<void(Garage&)> done) {
    if (!desk_.garage.isOpen()) return;
    const auto beside = [this, what, path = desk_.garage.path().toStdString(), work = std::move(work),
                         done = std::move(done)](const WorkOptions& options) -> JobRunner::Done {
        GarageOptions own;
        own.stop = options.stop;
        own.progress = options.progress;
        const auto garage = std::make_shared<Garage>(Garage::open(path, own));
        const QString sentence = work(*garage, options.stop);
        return [this, what, garage, sentence, done] {
            if (done) desk_.garage.attempt(what, [&](Garage&) { done(*garage); });
            emit desk_.voice.said(sentence);
        };
    };
    (void)runner_.run(what, beside,
                      {[this, what](const QString& sentence) { emit desk_.voice.complained(what, sentence); },
                       [this, what] { emit desk_.voice.said(tr("%1: stopped, nothing was changed.").arg(what)); }});
}

void GarageFiles::exportTo(Id id, const QString& path) {
    run(tr("Export"), [id, path](Garage& garage, const std::stop_token& stop) {
        writeFile(path, garage.exportItem(id), stop);
        return tr("Exported to %1.").arg(nativeName(path));
    });
}

void GarageFiles::importFrom(const QString& path) {
    const auto root = std::make_shared<Id>();
    run(
        tr("Import"),
        [path, root](Garage& garage, const std::stop_token&) {
            const ImportedItems items = garage.importItems(readDocument(path), path.toStdString());
            *root = items.root;
            return tr("%1 added, %2 were there already.").arg(items.added.size()).arg(items.alreadyThere.size());
        },
        [this, root](Garage& worker) {
            desk_.garage.change(tr("Import"), [&worker](Garage& garage) { garage.takeSteps(worker); });
            emit imported(*root);
        });
}

void GarageFiles::writeCsv(const PassFilter& filter, const QString& path) {
    run(tr("Passes as CSV"), [filter, path](Garage& garage, const std::stop_token& stop) {
        writeFile(path, garage.passesCsv(filter), stop);
        return tr("Written to %1.").arg(nativeName(path));
    });
}

void GarageFiles::keepCopy(const QString& path) {
    const auto said = [path] { return tr("A copy lies at %1.").arg(nativeName(path)); };
    if (desk_.garage.inPlace()) {
        run(tr("Copying the garage"), [path, said](Garage& garage, const std::stop_token&) {
            garage.backupTo(path.toStdString());
            return said();
        });
    } else if (desk_.garage.attempt(tr("Copying the garage"),
                                    [&](Garage& garage) { garage.backupTo(path.toStdString()); })) {
        emit desk_.voice.said(said()); // its file has no name any more, so no other thread could open it
    }
}

void GarageFiles::backup() {
    run(tr("Backup"), [](Garage& garage, const std::stop_token&) {
        return tr("Backed up to %1.").arg(nativeName(QString::fromStdString(garage.backupNow())));
    });
}

void GarageFiles::restoreFrom(const QString& path) {
    run(
        tr("Restore"),
        [path](Garage& garage, const std::stop_token&) {
            garage.restore(path.toStdString());
            return tr("Restored; what was here is kept as the newest backup.");
        },
        [this](Garage&) { emit restored(); });
}

QString GarageFiles::askWhere(const QString& title, const QString& name, const QString& kinds) {
    const QString folder = desk_.settings.text(folderChoice);
    QString path = QFileDialog::getSaveFileName(window_, title, QDir(folder).filePath(name), kinds);
    if (!path.isEmpty()) desk_.settings.setText(folderChoice, QFileInfo(path).absolutePath());
    return path;
}

void GarageFiles::askExport() {
    const auto id = chosen_();
    if (!id) return;
    const QString path = askWhere(tr("Export"), QString::fromStdString(toString(*id)) + QStringLiteral(".json"),
                                  tr("Exchange document (*.json)"));
    if (!path.isEmpty()) exportTo(*id, path);
}

void GarageFiles::askImport() {
    const QString path = QFileDialog::getOpenFileName(window_, tr("Import"), desk_.settings.text(folderChoice),
                                                      tr("Exchange document (*.json)"));
    if (!path.isEmpty()) importFrom(path);
}

void GarageFiles::askCsv() {
    const PassFilter filter = passesOf(chosen_());
    const QString path = askWhere(tr("Passes as CSV"), QStringLiteral("passes.csv"), tr("CSV (*.csv)"));
    if (!path.isEmpty()) writeCsv(filter, path);
}

void GarageFiles::askCopy() {
    const QString name = QFileInfo(desk_.garage.path()).completeBaseName();
    const QString path =
        askWhere(tr("Keep a copy of the garage"), tr("%1 copy.runwright").arg(name), tr("Garages (*.runwright)"));
    if (!path.isEmpty()) keepCopy(path);
}

void GarageFiles::askRestore() {
    std::vector<PickRow> rows;
    for (const BackupInfo& info : desk_.garage.garage().backups())
        rows.push_back({QString::fromStdString(info.path), dateText(info.when), QString::fromStdString(info.when)});
    const QString path =
        pickOne(window_, tr("Restore a backup"),
                {tr("Backups, newest first"), rows, tr("There is no backup yet. “Back up now” makes one.")});
    if (!path.isEmpty()) restoreFrom(path);
}

} // namespace rw
