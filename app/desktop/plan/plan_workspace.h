// The Plan workspace: setup left, strip and charts in the middle, "Will it hold?" right.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/workspace.h"

#include <memory>

namespace rw {

class BenchRecovery;
class PagePrinter;
class PlanCursor;
class PlanKeeping;
class PlanSession;
class SpreadController;

class PlanWorkspace : public Workspace {
    Q_OBJECT
public:
    explicit PlanWorkspace(const Desk& desk, QObject* parent = nullptr);
    ~PlanWorkspace() override;

    [[nodiscard]] QString document() const override;
    [[nodiscard]] bool modified() const override;
    [[nodiscard]] bool mayClose() override;
    [[nodiscard]] Fit fits(const QString& path) const override;
    void openFiles(const QStringList& paths) override;
    [[nodiscard]] QByteArray saveState() const override;
    void restoreState(const QByteArray& state) override;
    [[nodiscard]] bool busy() const override;
    [[nodiscard]] QList<Scene> scenes() override;

    [[nodiscard]] PlanSession& session() { return *session_; }
    [[nodiscard]] PlanKeeping& keeping() { return *keeping_; }
    [[nodiscard]] SpreadController& spread() { return *spread_; }
    [[nodiscard]] PagePrinter& printer() { return *printer_; }
    [[nodiscard]] BenchRecovery& recovery() { return *recovery_; }

private:
    struct Parts;
    [[nodiscard]] QWidget* makeMiddle();
    [[nodiscard]] QWidget* makeEmptyPage();
    void makeTabs();
    void placeTab();
    void placeCard();
    void makePrinting();
    void makeActions();
    void showPage();

    Desk desk_;
    std::unique_ptr<PlanSession> session_;
    std::unique_ptr<BenchRecovery> recovery_;
    std::unique_ptr<PlanCursor> cursor_;
    std::unique_ptr<SpreadController> spread_;
    std::unique_ptr<Parts> parts_;
    PagePrinter* printer_ = nullptr;
    std::unique_ptr<PlanKeeping> keeping_;
};

} // namespace rw
