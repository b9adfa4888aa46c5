// What the shell knows of a workspace: its widget, its actions, its document, its state. Nothing else crosses this
// line. A workspace is made with a Desk (desk.h), lives on the interface thread and owns its widget until the shell
// takes it.
#pragma once

#include <QAction>
#include <QByteArray>
#include <QList>
#include <QMap>
#include <QObject>
#include <QString>
#include <QStringList>
#include <QUndoStack>
#include <QWidget>

#include <functional>
#include <utility>

namespace rw {

// One picture for `--pictures`: prepare() brings the workspace into the state to be drawn.
struct Scene {
    QString name; // file name part: "plan-heat", "about"
    std::function<void()> prepare;
    std::function<QWidget*()> dialog{}; // made for its picture and deleted after it; none: the whole window is drawn
};

class Workspace : public QObject {
    Q_OBJECT
public:
    enum class Menu { File, Edit, View, Own }; // Own: a menu headed with the workspace's title
    enum class Fit { No, Maybe, Sure };        // whether a file is for this workspace

    Workspace(QString name, QString title, QObject* parent)
        : QObject(parent)
        , name_(std::move(name))
        , title_(std::move(title)) {}

    [[nodiscard]] const QString& name() const { return name_; }   // stable, for settings and file names: "plan"
    [[nodiscard]] const QString& title() const { return title_; } // what a person reads: "Plan"
    [[nodiscard]] QWidget* widget() const { return widget_; }     // always the same widget
    [[nodiscard]] QList<QAction*> actions(Menu menu) const { return menus_.value(menu); } // separators are actions too
    [[nodiscard]] QUndoStack* undoStack() const { return undo_; }

    // For the window title: what is open, and whether it is kept.
    [[nodiscard]] virtual QString document() const { return {}; }
    [[nodiscard]] virtual bool modified() const { return false; }
    // Asked before the window closes; may ask the person. False: stay.
    [[nodiscard]] virtual bool mayClose() { return true; }

    // Files dropped, from the command line or from the recent list. fits() looks at the content, not only at the name.
    [[nodiscard]] virtual Fit fits(const QString& path) const = 0;
    virtual void openFiles(const QStringList& paths) = 0;

    [[nodiscard]] virtual QByteArray saveState() const { return {}; } // splitters, folds, tabs
    virtual void restoreState(const QByteArray&) {}
    virtual void shown() {} // became the visible workspace

    [[nodiscard]] virtual bool busy() const { return false; } // work is under way that will change what is drawn
    [[nodiscard]] virtual QList<Scene> scenes() { return {}; }

signals:
    void documentChanged();                   // document() or modified() answers anew
    void fileOpened(const QString& path);     // for the recent files
    void wantsWorkspace(const QString& name); // "show that one": "plan", "review", "garage"
    void wantsOpen(const QStringList& paths); // hand files to whom they fit

protected:
    // Set while it is made.
    QWidget* widget_ = nullptr;
    QUndoStack* undo_ = nullptr;
    QMap<Menu, QList<QAction*>> menus_;

private:
    QString name_, title_;
};

} // namespace rw
