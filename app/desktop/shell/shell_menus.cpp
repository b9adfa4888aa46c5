// The menus of the window: the shell's own actions, and those that the workspace on show hands over.
#include "app/desktop/shell/shell.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shell/bench_strip.h"
#include "app/desktop/shell/help_dialogs.h"

#include <QActionGroup>
#include <QDir>
#include <QFileInfo>
#include <QMenu>
#include <QMenuBar>
#include <QUndoGroup>

namespace rw {

void Shell::makeActions() {
    const auto make = [this](const QString& text, const QKeySequence& keys, auto slot) {
        auto* action = new QAction(text, this);
        action->setShortcut(keys);
        connect(action, &QAction::triggered, this, slot);
        return action;
    };
    open_ = make(tr("&Open…"), QKeySequence::Open, [this] { askForFiles(); });
    newGarage_ = make(tr("New &garage…"), {}, [this] { askForNewGarage(); });
    sample_ = make(tr("Open the sa&mple garage"), {}, [this] { desk_.garage.openSample(GarageSession::samplePath()); });
    quit_ = make(tr("&Quit"), QKeySequence::Quit, [this] { close(); });
    undoAction_ = undo_->createUndoAction(this, tr("&Undo"));
    undoAction_->setShortcut(QKeySequence::Undo);
    redoAction_ = undo_->createRedoAction(this, tr("&Redo"));
    redoAction_->setShortcut(QKeySequence::Redo);
    int number = 0;
    for (const auto& workspace : workspaces_)
        places_ << make(u'&' + workspace->title(), QKeySequence(Qt::CTRL | static_cast<Qt::Key>(Qt::Key_1 + number++)),
                        [this, name = workspace->name()] { showWorkspace(name); });
    fullScreen_ =
        make(tr("&Full screen"), Qt::Key_F11, [this] { setWindowState(windowState() ^ Qt::WindowFullScreen); });
    manual_ = make(tr("&Manual"), Qt::Key_F1, [this] {
        auto* manual = findChild<ManualDialog*>();
        if (!manual) manual = new ManualDialog(this);
        manual->show();
        manual->raise();
        manual->activateWindow();
    });
    keys_ = make(tr("&Keys"), Qt::CTRL | Qt::Key_F1, [this] { KeysDialog(*menuBar(), this).exec(); });
    welcomeAction_ = make(tr("&Welcome page"), {}, [this] { showWelcome(); });
    about_ = make(tr("&About Runwright"), {}, [this] { AboutDialog(this).exec(); });
    about_->setMenuRole(QAction::AboutRole);

    recent_ = new QMenu(tr("Open &recent"), this);
    connect(&desk_.settings, &Settings::recentFilesChanged, this, &Shell::fillRecent);
    fillRecent();
    units_ = new QMenu(tr("&Units"), this);
    addUnitChoices(*units_, desk_.units);
    appearance_ = new QMenu(tr("&Appearance"), this);
    auto* group = new QActionGroup(appearance_);
    const std::pair<QString, Appearance> choices[] = {{tr("Like the &desktop"), Appearance::Desktop},
                                                      {tr("&Light"), Appearance::Light},
                                                      {tr("D&ark"), Appearance::Dark}};
    for (const auto& [text, value] : choices) {
        QAction* action = appearance_->addAction(text);
        action->setCheckable(true);
        action->setChecked(desk_.settings.appearance() == value);
        group->addAction(action);
        connect(action, &QAction::triggered, this, [this, value = value] { desk_.settings.setAppearance(value); });
    }
}

// Made anew when the workspace changes: only actions in the menu bar answer to their keys.
void Shell::fillMenus() {
    menuBar()->clear();
    for (QMenu* old : menuBar()->findChildren<QMenu*>(QString(), Qt::FindDirectChildrenOnly))
        old->deleteLater();
    fillFileMenu();
    fillEditMenu();
    fillViewMenu();
    if (Workspace* shown = current(); shown && !shown->actions(Workspace::Menu::Own).isEmpty()) {
        QMenu* own = menuBar()->addMenu(u'&' + shown->title());
        own->addActions(shown->actions(Workspace::Menu::Own));
    }
    fillHelpMenu();
}

void Shell::addWorkspaceActions(QMenu& menu, Workspace::Menu which) {
    Workspace* shown = current();
    if (!shown || shown->actions(which).isEmpty()) return;
    menu.addSeparator();
    menu.addActions(shown->actions(which));
}

void Shell::fillFileMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&File"));
    menu->addAction(open_);
    menu->addMenu(recent_);
    addWorkspaceActions(*menu, Workspace::Menu::File);
    menu->addSeparator();
    menu->addAction(newGarage_);
    menu->addAction(sample_);
    menu->addSeparator();
    menu->addAction(quit_);
}

void Shell::fillEditMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Edit"));
    menu->addAction(undoAction_);
    menu->addAction(redoAction_);
    addWorkspaceActions(*menu, Workspace::Menu::Edit);
}

void Shell::fillViewMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&View"));
    menu->addActions(places_);
    addWorkspaceActions(*menu, Workspace::Menu::View);
    menu->addSeparator();
    menu->addMenu(units_);
    menu->addMenu(appearance_);
    menu->addAction(fullScreen_);
}

void Shell::fillHelpMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Help"));
    menu->addAction(manual_);
    menu->addAction(keys_);
    menu->addAction(welcomeAction_);
    menu->addSeparator();
    menu->addAction(about_);
}

void Shell::fillRecent() {
    recent_->clear();
    for (const QString& path : desk_.settings.recentFiles()) {
        // An ampersand in a file name is no shortcut.
        QAction* action = recent_->addAction(QFileInfo(path).fileName().replace(u'&', QStringLiteral("&&")));
        action->setToolTip(QDir::toNativeSeparators(path));
        connect(action, &QAction::triggered, this, [this, path] { openFiles({path}); });
    }
    recent_->setEnabled(!recent_->isEmpty());
    if (recent_->isEmpty()) return;
    recent_->addSeparator();
    connect(recent_->addAction(tr("&Forget these")), &QAction::triggered, &desk_.settings, &Settings::clearRecentFiles);
}

} // namespace rw
