// The garage and other files: export, import, passes as CSV, copies, backup and restore. Each runs beside the interface
// thread on a garage object of its own, tells how far it is and can be stopped; one at a time.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"
#include "storage/garage.h"

#include <QObject>

#include <functional>
#include <optional>

class QAction;
class QWidget;

namespace rw {

class GarageFiles : public QObject {
    Q_OBJECT
public:
    // chosen: the thing shown. Dialogs stand over `window`.
    GarageFiles(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen,
                QObject* parent = nullptr);

    [[nodiscard]] QList<QAction*> actions() const { return {export_, import_, csv_, copy_, backup_, restore_}; }
    [[nodiscard]] bool busy() const { return runner_.busy(); }
    void refresh(); // what is enabled

    void exportTo(Id id, const QString& path);
    void importFrom(const QString& path);
    void writeCsv(const PassFilter& filter, const QString& path);
    void keepCopy(const QString& path);
    void backup();
    void restoreFrom(const QString& path);

signals:
    void imported(rw::Id root); // the garage has a new step to undo
    void restored();

private:
    // work: on the garage of the thread, its stop token for what is not the garage's; returns what is said when done.
    using Work = std::function<QString(Garage&, const std::stop_token&)>;
    void run(const QString& what, Work work, std::function<void(Garage&)> done = {});
    [[nodiscard]] QString askWhere(const QString& title, const QString& name, const QString& kinds);
    void askExport();
    void askImport();
    void askCsv();
    void askCopy();
    void askRestore();

    Desk desk_;
    QWidget* window_;
    std::function<std::optional<Id>()> chosen_;
    QAction *export_, *import_, *csv_, *copy_, *backup_, *restore_;
    JobRunner runner_; // last: ends before the rest goes
};

} // namespace rw
