// Garage: everything that is remembered; tree, page with history, search and best passes.
#pragma once

#include <QSplitter>

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/workspace.h"
#include "storage/id.h"

class QStackedWidget;

namespace rw {

class GarageActions;
class GarageFiles;
class GarageSide;
class GarageTree;
class LabelsPage;
class PartPage;

class GarageWorkspace : public Workspace {
    Q_OBJECT
public:
    explicit GarageWorkspace(const Desk& desk, QObject* parent = nullptr);

    [[nodiscard]] QString document() const override;
    [[nodiscard]] Fit fits(const QString& path) const override;
    void openFiles(const QStringList& paths) override;
    [[nodiscard]] QByteArray saveState() const override { return columns_->saveState(); }
    void restoreState(const QByteArray& state) override { columns_->restoreState(state); }
    [[nodiscard]] bool busy() const override;
    [[nodiscard]] QList<Scene> scenes() override;

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void connectParts();
    [[nodiscard]] QWidget* makeEmptyPage();   // no garage is open
    [[nodiscard]] QWidget* makeEmptyGarage(); // nothing is in it yet
    [[nodiscard]] bool holdsNothing();
    [[nodiscard]] QWidget* pageNow(); // unless a new car is being described
    void refresh();
    void showThing(Id id);
    void showPageOf(Id id);
    void showLabels();
    void showLabelsOfCar();
    void refreshLabels();
    void closeLabels();

    Desk desk_;
    QStackedWidget* pages_ = nullptr;
    QSplitter* columns_ = nullptr;
    GarageTree* tree_ = nullptr;
    PartPage* page_ = nullptr;
    GarageSide* side_ = nullptr;
    GarageActions* actions_ = nullptr;
    GarageFiles* files_ = nullptr;
    LabelsPage* labels_ = nullptr;
    QWidget *noGarage_ = nullptr, *emptyGarage_ = nullptr;
    bool stale_ = false; // changed while it was not seen
    QAction *newCar_ = nullptr, *carLabels_ = nullptr;
};

} // namespace rw
