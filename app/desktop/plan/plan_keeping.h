// Where plans and setups come from and go to: files, plans in the garage, revisions of a setup. Owns its actions.
#pragma once

#include "core/plan/plan_fields.h"

#include <QAction>
#include <QDialog>
#include <QList>
#include <QObject>
#include <QPlainTextEdit>
#include <QPointer>
#include <QString>
#include <QWidget>

namespace rw {

class PlanSession;

// Before a new revision of a setup: what it changes, and why.
class RevisionDialog : public QDialog {
    Q_OBJECT
public:
    RevisionDialog(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] QString reason() const { return reason_->toPlainText().trimmed(); }
    void setReason(const QString& reason) { reason_->setPlainText(reason); }

private:
    QPlainTextEdit* reason_ = nullptr;
};

class PlanKeeping : public QObject {
    Q_OBJECT
public:
    PlanKeeping(PlanSession& session, QWidget* window);

    [[nodiscard]] const QList<QAction*>& fileActions() const { return fileActions_; }
    [[nodiscard]] const QList<QAction*>& planActions() const { return planActions_; }

    bool openFile(const QString& path);
    void openExample();  // an invented car
    void putSomething(); // the setup remembered or the garage's newest, else the invented car
    bool saveTo(const QString& path);
    bool save(); // where it came from; asks where it came from nowhere
    bool saveAs();
    void takeSetup();
    void openKeptPlan();
    bool keepPlan();
    bool keepPlanAs(const QString& name);
    bool keepRevision();
    bool keepRevisionBecause(const QString& reason);
    bool keepSetup(); // of a plan that came from a file

signals:
    void fileOpened(const QString& path);

private:
    void makeActions();
    void enableActions();
    void remember(); // what lies on the bench, for the next start
    void putRemembered();

    PlanSession& session_;
    QPointer<QWidget> window_;
    QList<QAction*> fileActions_, planActions_;
    QAction *save_ = nullptr, *saveAs_ = nullptr, *takeSetup_ = nullptr, *openKept_ = nullptr, *keepPlan_ = nullptr,
            *keepRevision_ = nullptr, *keepSetup_ = nullptr, *putBack_ = nullptr;
};

} // namespace rw
