#include "app/desktop/plan/plan_workspace.h"

#include "app/desktop/bench.h"
#include "app/desktop/bench_source.h"
#include "app/desktop/bench_strip.h"
#include "app/desktop/labels.h"
#include "app/desktop/plan/force_panel.h"
#include "app/desktop/plan/gear_panel.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/strip_panel.h"

#include <QDataStream>
#include <QFile>
#include <QFileInfo>
#include <QIODevice>
#include <QSplitter>
#include <QTabBar>
#include <QTabWidget>
#include <QVBoxLayout>

namespace rw {

struct PlanWorkspace::Parts {
    QSplitter *columns = nullptr, *rows = nullptr, *lower = nullptr;
    SetupPanel* setup = nullptr;
    StripPanel* strip = nullptr;
    ForcePanel* force = nullptr;
    GearPanel* gears = nullptr;
    HoldPanel* hold = nullptr;
    QTabWidget* tabs = nullptr;
};

namespace {

QSplitter* splitter(Qt::Orientation orientation) {
    auto* parts = new QSplitter(orientation);
    parts->setChildrenCollapsible(false);
    parts->setHandleWidth(1);
    return parts;
}

} // namespace

PlanWorkspace::PlanWorkspace(const Desk& desk, QObject* parent)
    : Workspace(parent)
    , desk_(desk)
    , session_(std::make_unique<PlanSession>(desk))
    , cursor_(std::make_unique<PlanCursor>(*session_))
    , parts_(std::make_unique<Parts>()) {
    Parts& p = *parts_;
    p.setup = new SetupPanel(*session_);
    p.strip = new StripPanel(*session_, *cursor_);
    p.force = new ForcePanel(*session_, *cursor_);
    p.gears = new GearPanel(*session_);
    p.hold = new HoldPanel(*session_);
    p.tabs = new QTabWidget;
    p.tabs->setDocumentMode(true);
    p.tabs->tabBar()->setDrawBase(false);
    p.tabs->tabBar()->setExpanding(false);
    p.tabs->addTab(p.gears, tr("Gears"));

    p.lower = splitter(Qt::Horizontal);
    p.lower->setHandleWidth(3 * gridStep);
    p.lower->addWidget(p.force);
    p.lower->addWidget(p.tabs);
    p.lower->setStretchFactor(0, 4);
    p.lower->setStretchFactor(1, 6);
    p.rows = splitter(Qt::Vertical);
    p.rows->setHandleWidth(2 * gridStep);
    p.rows->addWidget(p.strip);
    p.rows->addWidget(p.lower);
    p.rows->setStretchFactor(0, 5);
    p.rows->setStretchFactor(1, 5);
    auto* middle = new QWidget;
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(3 * gridStep, 2 * gridStep, 3 * gridStep, 2 * gridStep);
    column->addWidget(p.rows);
    p.columns = splitter(Qt::Horizontal);
    p.columns->addWidget(p.setup);
    p.columns->addWidget(middle);
    p.columns->addWidget(p.hold);
    p.columns->setStretchFactor(1, 1);
    p.setup->setMinimumWidth(34 * gridStep);
    p.hold->setMinimumWidth(30 * gridStep);
    p.columns->setSizes({36 * gridStep, 100 * gridStep, 36 * gridStep});

    connect(session_.get(), &PlanSession::inputChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::keptChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::complained, this, &Workspace::complained);
}

PlanWorkspace::~PlanWorkspace() = default;

QWidget* PlanWorkspace::widget() { return parts_->columns; }

QList<QAction*> PlanWorkspace::actions(Menu menu) const {
    switch (menu) {
    case Menu::File: return fileActions_;
    case Menu::Edit: return editActions_;
    case Menu::Own: return ownActions_;
    case Menu::View: break;
    }
    return {};
}

QUndoStack* PlanWorkspace::undoStack() { return &session_->undoStack(); }

QString PlanWorkspace::document() const {
    if (session_->empty()) return {};
    const PlanInput& in = session_->input();
    return QStringLiteral("%1 %2/%3").arg(benchTitle(desk_.bench).name).arg(in.gears.pinion_teeth).arg(in.gears.spur_teeth);
}

bool PlanWorkspace::modified() const { return session_->modified(); }
bool PlanWorkspace::mayClose() { return true; }

Workspace::Fit PlanWorkspace::fits(const QString& path) const {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) return Fit::No;
    const QByteArray head = file.read(4096);
    const qsizetype mark = head.indexOf("\"runwright\"");
    return mark >= 0 && head.indexOf("\"plan\"", mark) > mark ? Fit::Sure : Fit::No;
}

void PlanWorkspace::openFiles(const QStringList& paths) {
    if (!paths.isEmpty()) openFile(paths.last());
}

void PlanWorkspace::openFile(const QString& path) {
    try {
        desk_.bench.put(benchFromFile(path));
    } catch (const std::exception& error) {
        emit complained(tr("The plan was not opened"), QString::fromUtf8(error.what()));
        return;
    }
    if (!path.startsWith(u':')) emit fileOpened(path);
}

QByteArray PlanWorkspace::saveState() const {
    QByteArray state;
    QDataStream out(&state, QIODevice::WriteOnly);
    out << parts_->columns->saveState() << parts_->rows->saveState() << parts_->lower->saveState()
        << parts_->tabs->currentIndex() << parts_->setup->saveState();
    return state;
}

void PlanWorkspace::restoreState(const QByteArray& state) {
    if (state.isEmpty()) return;
    QDataStream in(state);
    QByteArray columns, rows, lower, setup;
    int tab = 0;
    in >> columns >> rows >> lower >> tab >> setup;
    if (in.status() != QDataStream::Ok) return;
    parts_->columns->restoreState(columns);
    parts_->rows->restoreState(rows);
    parts_->lower->restoreState(lower);
    parts_->tabs->setCurrentIndex(tab);
    parts_->setup->restoreState(setup);
}

bool PlanWorkspace::busy() const {
    return (!session_->empty() && !session_->current() && session_->problem().isEmpty()) || parts_->gears->busy();
}

QList<Scene> PlanWorkspace::scenes() {
    return {{QStringLiteral("plan"), [this] {
                 parts_->tabs->setCurrentWidget(parts_->gears);
                 return nullptr;
             }}};
}

} // namespace rw
