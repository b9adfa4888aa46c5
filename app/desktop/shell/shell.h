// The one window: bench strip on top, the workspaces in the order of the job, the foot line. It knows workspaces only
// through workspace.h.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/workspace.h"

#include <QMainWindow>

#include <memory>
#include <optional>
#include <vector>

class QLabel;
class QMenu;
class QStackedWidget;
class QUndoGroup;

namespace rw {

class BenchStrip;
class FootLine;
class NoticeBar;

class Shell : public QMainWindow {
    Q_OBJECT
public:
    Shell(Desk desk, std::vector<std::unique_ptr<Workspace>> workspaces, QWidget* parent = nullptr);
    ~Shell() override;

    void showWorkspace(const QString& name);
    [[nodiscard]] Workspace* current() const { return workspace(current_); }
    [[nodiscard]] Workspace* workspace(const QString& name) const; // null if there is none
    [[nodiscard]] const std::vector<std::unique_ptr<Workspace>>& workspaces() const { return workspaces_; }

    // Hands each file to the workspace that it fits best.
    void openFiles(const QStringList& paths);
    // What a first start shows; otherwise the last garage and the last workspace.
    void begin();
    void showWelcome();
    [[nodiscard]] bool welcoming() const;
    [[nodiscard]] QString notice() const; // the complaint on show, "" if none

public slots:
    void complain(const QString& title, const QString& sentence);
    void say(const QString& sentence);

protected:
    void closeEvent(QCloseEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dragLeaveEvent(QDragLeaveEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    void adopt(Workspace& workspace);
    void bring(Workspace* next, const QString& name); // none: the welcome page
    [[nodiscard]] QWidget* makeWelcome();
    void makeActions();
    [[nodiscard]] QMenu* makeUnits();
    [[nodiscard]] QMenu* makeAppearance();
    void fillMenus();
    void fillRecent();
    void askForFiles();
    void askForNewGarage();
    void newCarFromLabels();
    void planExample() { openFiles({QStringLiteral(":/samples/example.json")}); }
    void updateTitle();
    void leaveWelcome();
    void focusWork();

    Desk desk_;
    std::vector<std::unique_ptr<Workspace>> workspaces_;
    QUndoGroup* undo_ = nullptr;
    BenchStrip* strip_ = nullptr;
    NoticeBar* notice_ = nullptr;
    QStackedWidget* stack_ = nullptr;
    QWidget* welcome_ = nullptr;
    FootLine* foot_ = nullptr;
    QLabel* dropHint_ = nullptr;
    QString current_;
    // A menu: the shell's own actions around those that the workspace on show has for it. Without a title it is the
    // workspace's own.
    struct Heading {
        QString title;
        std::optional<Workspace::Menu> theirs;
        QList<QAction*> before{}, after{};
    };
    std::vector<Heading> headings_;
    QMenu* recent_ = nullptr;
};

} // namespace rw
