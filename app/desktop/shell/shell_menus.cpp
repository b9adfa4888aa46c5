// The menus of the window: the shell's own actions, and those that the workspace on show hands over.
#include "app/desktop/shell/shell.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
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
    recent_ = new QMenu(tr("Open &recent"), this);
    connect(&desk_.settings, &Settings::recentFilesChanged, this, &Shell::fillRecent);
    fillRecent();
    const auto make = [this](const QString& text, const QKeySequence& keys, auto does) {
        return action(this, text, {}, does, keys);
    };
    const QList<QAction*> garages{
        make(tr("New &garage…"), {}, [this] { askForNewGarage(); }),
        make(tr("Open the sa&mple garage"), {}, [this] { desk_.garage.openSample(GarageSession::samplePath()); }),
        separator(this), make(tr("&Quit"), QKeySequence::Quit, [this] { close(); })};
    QAction* undo = undo_->createUndoAction(this, tr("&Undo"));
    undo->setShortcut(QKeySequence::Undo);
    QAction* redo = undo_->createRedoAction(this, tr("&Redo"));
    redo->setShortcut(QKeySequence::Redo);
    QList<QAction*> places;
    for (const auto& workspace : workspaces_) {
        const auto number = static_cast<Qt::Key>(Qt::Key_1 + places.size());
        places << make(u'&' + workspace->title(), QKeySequence(Qt::CTRL | number),
                       [this, name = workspace->name()] { showWorkspace(name); });
    }
    const auto turnToManual = [this] {
        auto* manual = findChild<ManualDialog*>();
        if (!manual) manual = new ManualDialog(this);
        manual->show();
        manual->raise();
        manual->activateWindow();
    };
    QAction* about = make(tr("&About Runwright"), {}, [this] { AboutDialog(this).exec(); });
    about->setMenuRole(QAction::AboutRole);
    const QList<QAction*> help{
        make(tr("&Manual"), Qt::Key_F1, turnToManual),
        make(tr("&Keys"), Qt::CTRL | Qt::Key_F1, [this] { KeysDialog(*menuBar(), this).exec(); }),
        make(tr("&Welcome page"), {}, [this] { showWelcome(); }), separator(this), about};
    headings_ = {
        {tr("&File"),
         Workspace::Menu::File,
         {make(tr("&Open…"), QKeySequence::Open, [this] { askForFiles(); }), recent_->menuAction()},
         garages},
        {tr("&Edit"), Workspace::Menu::Edit, {undo, redo}},
        {tr("&View"),
         Workspace::Menu::View,
         places,
         {makeUnits()->menuAction(), makeAppearance()->menuAction(),
          make(tr("&Full screen"), Qt::Key_F11, [this] { setWindowState(windowState() ^ Qt::WindowFullScreen); })}},
        {{}, Workspace::Menu::Own},
        {tr("&Help"), {}, help}};
}

QMenu* Shell::makeUnits() {
    auto* menu = new QMenu(tr("&Units"), this);
    addUnitChoices(*menu, desk_.units);
    return menu;
}

QMenu* Shell::makeAppearance() {
    auto* menu = new QMenu(tr("&Appearance"), this);
    auto* group = new QActionGroup(menu);
    const std::pair<QString, Appearance> choices[] = {{tr("Like the &desktop"), Appearance::Desktop},
                                                      {tr("&Light"), Appearance::Light},
                                                      {tr("D&ark"), Appearance::Dark}};
    for (const auto& [text, value] : choices) {
        QAction* choice = menu->addAction(text);
        choice->setCheckable(true);
        choice->setChecked(desk_.settings.appearance() == value);
        group->addAction(choice);
        connect(choice, &QAction::triggered, this, [this, value = value] { desk_.settings.setAppearance(value); });
    }
    return menu;
}

// Made anew when the workspace changes: only actions in the menu bar answer to their keys.
void Shell::fillMenus() {
    menuBar()->clear();
    for (QMenu* old : menuBar()->findChildren<QMenu*>(QString(), Qt::FindDirectChildrenOnly))
        old->deleteLater();
    const Workspace* shown = current();
    for (const Heading& one : headings_) {
        const QList<QAction*> theirs = shown && one.theirs ? shown->actions(*one.theirs) : QList<QAction*>();
        const bool own = one.title.isEmpty();
        if (own && (!shown || theirs.isEmpty())) continue;
        QMenu* menu = menuBar()->addMenu(own ? u'&' + shown->title() : one.title);
        for (const QList<QAction*>& part : {one.before, theirs, one.after}) {
            if (!menu->isEmpty() && !part.isEmpty()) menu->addSeparator();
            menu->addActions(part);
        }
    }
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
