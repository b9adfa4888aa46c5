#include "app/desktop/shell/shell.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
#include "app/desktop/shell/bench_strip.h"
#include "app/desktop/shell/notices.h"

#include <QCloseEvent>
#include <QDir>
#include <QDragEnterEvent>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QMimeData>
#include <QStackedWidget>
#include <QUndoGroup>
#include <QUrl>

#include <algorithm>
#include <map>

namespace rw {

namespace {

const QString windowKey = QStringLiteral("window");
const QString workspaceChoice = QStringLiteral("workspace");

QStringList localFiles(const QMimeData& data) {
    QStringList paths;
    for (const QUrl& url : data.urls())
        if (url.isLocalFile()) paths << url.toLocalFile();
    return paths;
}

} // namespace

Shell::Shell(Desk desk, std::vector<std::unique_ptr<Workspace>> workspaces, QWidget* parent)
    : QMainWindow(parent)
    , desk_(desk)
    , workspaces_(std::move(workspaces))
    , undo_(new QUndoGroup(this)) {
    new WheelGuard(this);
    setAcceptDrops(true);
    setMinimumSize(96 * gridStep, 56 * gridStep); // a screen of 1600 × 1000 at 200 %
    auto* page = new QWidget(this);
    strip_ = new BenchStrip(desk_.bench, desk_.units, page);
    notice_ = new NoticeBar(page);
    stack_ = new QStackedWidget(page);
    foot_ = new FootLine(desk_.jobs, page);
    lay(*columnIn(page, 0), {strip_, thinRule(Qt::Horizontal), notice_, grow(stack_), thinRule(Qt::Horizontal), foot_});
    setCentralWidget(page);

    dropHint_ = tagged(new QLabel(tr("Drop it here: logs are reviewed, plans are planned, garages are opened"), this),
                       "dropHint");
    dropHint_->setAlignment(Qt::AlignCenter);
    dropHint_->setFont(rw::font(Type::Strong));
    dropHint_->setAutoFillBackground(true);
    dropHint_->hide();

    welcome_ = makeWelcome();
    stack_->addWidget(welcome_);
    QList<QPair<QString, QString>> places;
    for (const auto& workspace : workspaces_) {
        adopt(*workspace);
        places.append({workspace->name(), workspace->title()});
    }
    strip_->setPlaces(places);
    connect(strip_, &BenchStrip::chosen, this, &Shell::showWorkspace);

    connect(&desk_.voice, &Voice::said, this, &Shell::say);
    connect(&desk_.voice, &Voice::complained, this, &Shell::complain);
    connect(&desk_.garage, &GarageSession::complained, this, &Shell::complain);
    connect(&desk_.garage, &GarageSession::opened, this, [this] {
        if (!desk_.garage.isOpen()) return;
        desk_.settings.addRecentFile(desk_.garage.path());
        say(tr("Garage: %1").arg(QDir::toNativeSeparators(desk_.garage.path())));
        leaveWelcome();
    });
    makeActions();
}

// What is seen goes before what it shows: a view that is still up asks its model.
Shell::~Shell() { delete takeCentralWidget(); }

void Shell::adopt(Workspace& workspace) {
    stack_->addWidget(workspace.widget());
    if (QUndoStack* stack = workspace.undoStack()) undo_->addStack(stack);
    workspace.restoreState(desk_.settings.state(workspace.name()));
    connect(&workspace, &Workspace::documentChanged, this, &Shell::updateTitle);
    connect(&workspace, &Workspace::wantsWorkspace, this, &Shell::showWorkspace);
    connect(&workspace, &Workspace::wantsOpen, this, &Shell::openFiles);
    connect(&workspace, &Workspace::fileOpened, &desk_.settings, &Settings::addRecentFile);
}

Workspace* Shell::workspace(const QString& name) const {
    for (const auto& candidate : workspaces_)
        if (candidate->name() == name) return candidate.get();
    return nullptr;
}

void Shell::showWorkspace(const QString& name) {
    Workspace* next = workspace(name);
    if (!next) return;
    desk_.settings.setText(workspaceChoice, name);
    bring(next, name);
    next->shown();
}

void Shell::begin() {
    restoreGeometry(desk_.settings.state(windowKey));
    const QString garage = desk_.settings.garageFile();
    if (garage.isEmpty() && desk_.bench.empty()) return showWelcome();
    if (!garage.isEmpty() && !desk_.garage.isOpen()) desk_.garage.open(garage);
    const QString last = desk_.settings.text(workspaceChoice);
    showWorkspace(workspace(last) ? last : QStringLiteral("plan"));
    focusWork();
}

// Keys go to the work from the start, not to the bar above it.
void Shell::focusWork() {
    const QWidget* page = stack_->currentWidget();
    for (QWidget* at = page->nextInFocusChain(); at != page; at = at->nextInFocusChain()) {
        const bool takesTab = (at->focusPolicy() & Qt::TabFocus) != 0 && at->isEnabled();
        if (takesTab && page->isAncestorOf(at) && at->isVisibleTo(this)) return at->setFocus(Qt::OtherFocusReason);
    }
}

void Shell::showWelcome() { bring(nullptr, {}); }

void Shell::bring(Workspace* next, const QString& name) {
    current_ = name;
    stack_->setCurrentWidget(next ? next->widget() : welcome_);
    strip_->setCurrent(name);
    undo_->setActiveStack(next ? next->undoStack() : nullptr);
    fillMenus();
    updateTitle();
}

bool Shell::welcoming() const { return stack_->currentWidget() == welcome_; }

// From the welcome page the garage shows itself; elsewhere the person stays where they are.
void Shell::leaveWelcome() {
    if (welcoming())
        showWorkspace(workspace(QStringLiteral("garage")) ? QStringLiteral("garage") : QStringLiteral("plan"));
}

QString Shell::notice() const { return notice_->isHidden() ? QString() : notice_->text(); }
void Shell::complain(const QString& title, const QString& sentence) { notice_->complain(title, sentence); }
void Shell::say(const QString& sentence) { foot_->say(sentence); }

void Shell::openFiles(const QStringList& paths) {
    say({}); // what was said of the file before is over
    std::map<Workspace*, QStringList> handed;
    for (const QString& path : paths) {
        if (GarageSession::looksLikeGarage(path)) {
            desk_.garage.open(path);
            continue;
        }
        const auto fit = [&path](const auto& one) { return static_cast<int>(one->fits(path)); };
        const auto best = std::ranges::max_element(workspaces_, {}, fit);
        if (fit(*best) > static_cast<int>(Workspace::Fit::No))
            handed[best->get()] << path;
        else
            complain(tr("Nothing was opened"),
                     QFileInfo::exists(path)
                         ? tr("%1 is neither a log, a plan nor a garage.").arg(QFileInfo(path).fileName())
                         : tr("%1 is not there any more.").arg(path));
    }
    for (auto& [workspace, files] : handed) {
        showWorkspace(workspace->name());
        workspace->openFiles(files);
    }
}

void Shell::askForFiles() {
    const QString folder = desk_.settings.text(QStringLiteral("folder"));
    const QStringList paths = QFileDialog::getOpenFileNames(this, tr("Open a log, a plan or a garage"), folder);
    if (paths.isEmpty()) return;
    desk_.settings.setText(QStringLiteral("folder"), QFileInfo(paths.first()).absolutePath());
    openFiles(paths);
}

void Shell::askForNewGarage() {
    QDir().mkpath(QFileInfo(GarageSession::defaultPath()).absolutePath());
    const QString path = QFileDialog::getSaveFileName(this, tr("Where shall the garage be kept?"),
                                                      GarageSession::defaultPath(), tr("Garages (*.runwright)"));
    if (!path.isEmpty()) desk_.garage.create(path);
}

// The garage's own action: the page belongs to that workspace.
void Shell::newCarFromLabels() {
    for (QAction* action : workspace(QStringLiteral("garage"))->actions(Workspace::Menu::Own))
        if (action->objectName() == QLatin1String("newCarFromLabels")) action->trigger();
}

void Shell::updateTitle() {
    const Workspace* shown = current();
    const QString document = shown ? shown->document() : QString();
    setWindowTitle(document.isEmpty() ? tr("Runwright[*]")
                                      : tr("%1[*] – %2 – Runwright").arg(document, shown->title()));
    setWindowModified(shown && shown->modified());
}

void Shell::closeEvent(QCloseEvent* event) {
    if (!std::ranges::all_of(workspaces_, [](const auto& one) { return one->mayClose(); })) return event->ignore();
    desk_.settings.setState(windowKey, saveGeometry());
    for (const auto& workspace : workspaces_)
        desk_.settings.setState(workspace->name(), workspace->saveState());
    event->accept();
}

void Shell::dragEnterEvent(QDragEnterEvent* event) {
    if (!event->mimeData()->hasUrls()) return;
    event->acceptProposedAction();
    const Look& look = Look::of(this);
    QPalette own = palette();
    own.setColor(QPalette::Window, look.wash);
    dropHint_->setPalette(own);
    dropHint_->setGeometry(
        centralWidget()->geometry().adjusted(3 * gridStep, 11 * gridStep, -3 * gridStep, -7 * gridStep));
    dropHint_->raise();
    dropHint_->show();
}

void Shell::dragLeaveEvent(QDragLeaveEvent* event) {
    dropHint_->hide();
    QMainWindow::dragLeaveEvent(event);
}

void Shell::dropEvent(QDropEvent* event) {
    dropHint_->hide();
    if (!event->mimeData()->hasUrls()) return;
    event->acceptProposedAction();
    const QStringList paths = localFiles(*event->mimeData());
    if (paths.isEmpty())
        complain(tr("Nothing was opened"),
                 tr("Only files on this computer can be dropped here; nothing is fetched from elsewhere."));
    else
        openFiles(paths);
}

} // namespace rw
