#include "app/desktop/plan/plan_workspace.h"

#include "app/desktop/pages/page_printer.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/plan/bench_recovery.h"
#include "app/desktop/plan/chances_panel.h"
#include "app/desktop/plan/compare_panel.h"
#include "app/desktop/plan/force_panel.h"
#include "app/desktop/plan/gear_panel.h"
#include "app/desktop/plan/heat_panel.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/ladder_panel.h"
#include "app/desktop/plan/matters_panel.h"
#include "app/desktop/plan/plan_columns.h"
#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_keeping.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/power_card.h"
#include "app/desktop/plan/power_panel.h"
#include "app/desktop/plan/revision_dialog.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/plan/strip_panel.h"
#include "app/desktop/plan/tab_groups.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_title.h"
#include "app/desktop/shared/empty_page.h"
#include "app/desktop/shared/labels.h"

#include <QAction>
#include <QDataStream>
#include <QEvent>
#include <QFile>
#include <QIODevice>
#include <QMessageBox>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace rw {

struct PlanWorkspace::Parts {
    QStackedWidget* pages = nullptr;
    PlanColumns* columns = nullptr;
    QSplitter* rows = nullptr;
    SetupPanel* setup = nullptr;
    StripPanel* strip = nullptr;
    ForcePanel* force = nullptr;
    GearPanel* gears = nullptr;
    HeatPanel* heat = nullptr;
    MattersPanel* matters = nullptr;
    ChancesPanel* chances = nullptr;
    ComparePanel* compare = nullptr;
    PowerPanel* power = nullptr;
    LadderPanel* ladder = nullptr;
    HoldPanel* hold = nullptr;
    TabGroups* tabs = nullptr;
};

namespace {

constexpr int leastHeight = 60 * gridStep; // of strip, speed and tabs together

QSplitter* splitter(Qt::Orientation orientation, int handle) {
    auto* parts = new QSplitter(orientation);
    parts->setChildrenCollapsible(false);
    parts->setHandleWidth(handle);
    if (handle > 1) parts->setObjectName(QStringLiteral("air")); // a gap that can be dragged, without a line
    return parts;
}

} // namespace

PlanWorkspace::PlanWorkspace(const Desk& desk, QObject* parent)
    : Workspace(parent)
    , desk_(desk)
    , session_(std::make_unique<PlanSession>(desk))
    , recovery_(std::make_unique<BenchRecovery>(*session_))
    , cursor_(std::make_unique<PlanCursor>(*session_))
    , spread_(std::make_unique<SpreadController>(*session_))
    , parts_(std::make_unique<Parts>()) {
    Parts& p = *parts_;
    p.setup = new SetupPanel(*session_);
    p.hold = new HoldPanel(*session_);
    p.columns = new PlanColumns(*p.setup, *makeMiddle(), *p.hold);
    p.pages = new QStackedWidget;
    keeping_ = std::make_unique<PlanKeeping>(*session_, p.pages);
    p.pages->addWidget(makeEmptyPage());
    p.pages->addWidget(p.columns);
    connect(session_.get(), &PlanSession::inputChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::keptChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::replaced, this, &PlanWorkspace::showPage);
    connect(session_.get(), &PlanSession::complained, this, &Workspace::complained);
    connect(keeping_.get(), &PlanKeeping::complained, this, &Workspace::complained);
    connect(keeping_.get(), &PlanKeeping::said, this, &Workspace::said);
    connect(session_.get(), &PlanSession::said, this, &Workspace::said);
    // Said once the window listens.
    connect(recovery_.get(), &BenchRecovery::said, this, &Workspace::said, Qt::QueuedConnection);
    connect(keeping_.get(), &PlanKeeping::fileOpened, this, &Workspace::fileOpened);
    connect(p.columns, &PlanColumns::placed, this, &PlanWorkspace::placeCard);
    const auto name = [this] {
        const BenchContent content = desk_.bench.content();
        QStringList words{PlanWorkspace::document()};
        if (!content.venue.isEmpty()) words << content.venue;
        parts_->columns->setBenchWords(words.join(QStringLiteral(", ")));
    };
    connect(session_.get(), &PlanSession::inputChanged, this, name);
    name();
    connect(p.matters, &MattersPanel::fieldWanted, p.columns, &PlanColumns::showBench);
    connect(p.matters, &MattersPanel::fieldWanted, p.setup, &SetupPanel::reveal);
    makePrinting();
    makeActions();
    recovery_->restore();
    showPage();
}

void PlanWorkspace::makeActions() {
    uncertainty_ = new QAction(tr("Uncertainty (±) of the &field in hand"), this);
    uncertainty_->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_U));
    connect(uncertainty_, &QAction::triggered, parts_->columns, &PlanColumns::showBench);
    connect(uncertainty_, &QAction::triggered, parts_->setup, &SetupPanel::editUncertainty);
    const auto enable = [this] { uncertainty_->setEnabled(!session_->empty()); };
    connect(session_.get(), &PlanSession::inputChanged, uncertainty_, enable);
    enable();
}

void PlanWorkspace::makePrinting() {
    const PageWords words{tr("&Print run sheet…"), tr("Save run sheet as P&DF or HTML…"), tr("One page for the strip")};
    const auto order = [this] {
        const BenchContent content = desk_.bench.content();
        return PageOrder{tr("run sheet %1").arg(document()), true,
                         [content, units = desk_.units.copy()](const WorkOptions& work) {
                             return makeRunSheet(content, *units, work);
                         }};
    };
    printer_ = new PagePrinter(desk_, parts_->pages, words, order, this);
    connect(session_.get(), &PlanSession::inputChanged, printer_, [this] { printer_->setEnabled(!session_->empty()); });
    printer_->setEnabled(!session_->empty());
    connect(printer_, &PagePrinter::said, this, &Workspace::said);
    connect(printer_, &PagePrinter::complained, this, &Workspace::complained);
}

PlanWorkspace::~PlanWorkspace() = default;

QWidget* PlanWorkspace::makeMiddle() {
    Parts& p = *parts_;
    p.strip = new StripPanel(*session_, *cursor_);
    makeTabs();
    p.rows = splitter(Qt::Vertical, 2 * gridStep);
    p.rows->addWidget(p.strip);
    p.rows->addWidget(p.tabs);
    p.rows->setStretchFactor(0, 5);
    p.rows->setStretchFactor(1, 5);
    p.rows->setSizes({5000, 5000});
    auto* middle = new QWidget;
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(3 * gridStep, 2 * gridStep, 3 * gridStep, 2 * gridStep);
    p.rows->setMinimumHeight(leastHeight);
    auto* area = new QScrollArea; // a low window scrolls rather than squeeze its charts
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFocusPolicy(Qt::NoFocus);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setWidget(p.rows);
    column->addWidget(area);
    return middle;
}

// Each tab has the width of the middle. Other setups keep the strip alone, without its curves; the ladder is a page and
// folds bench and limits away, which come back with another tab.
void PlanWorkspace::placeTab() {
    const Parts& p = *parts_;
    const QWidget* open = p.tabs->currentWidget();
    p.strip->showCurves(open != p.power);
    p.strip->setVisible(open != p.ladder);
    p.columns->setAlone(open == p.ladder);
    placeCard();
}

// What a picked row would change stands beside the limits where they are in sight.
void PlanWorkspace::placeCard() {
    const Parts& p = *parts_;
    if (p.tabs->currentWidget() == p.power && p.columns->limitsShown())
        p.hold->take(&p.power->card());
    else
        p.power->takeCard();
}

void PlanWorkspace::makeTabs() {
    Parts& p = *parts_;
    p.force = new ForcePanel(*session_, *cursor_);
    p.gears = new GearPanel(*session_);
    p.heat = new HeatPanel(*session_);
    p.matters = new MattersPanel(*session_, *spread_);
    p.chances = new ChancesPanel(*session_, *spread_);
    p.compare = new ComparePanel(*session_);
    p.power = new PowerPanel(*session_);
    p.ladder = new LadderPanel(*session_);
    p.tabs = new TabGroups;
    p.tabs->setMinimumWidth(46 * gridStep);
    const QString own = tr("This setup"), sure = tr("How sure"), others = tr("Other setups");
    p.tabs->addPanel(own, tr("Forces"), p.force);
    p.tabs->addPanel(own, tr("Gears"), p.gears);
    p.tabs->addPanel(own, tr("Heat"), p.heat);
    p.tabs->addPanel(sure, tr("What matters"), p.matters);
    p.tabs->addPanel(sure, tr("Chances"), p.chances);
    p.tabs->addPanel(sure, tr("Compare"), p.compare);
    p.tabs->addPanel(others, tr("Power"), p.power);
    p.tabs->addPanel(others, tr("Ladder"), p.ladder);
    connect(p.tabs, &TabGroups::currentChanged, this, &PlanWorkspace::placeTab);
}

QWidget* PlanWorkspace::makeEmptyPage() {
    auto* line =
        new TextLabel(tr("Take a setup from the garage, open a plan file, or drop one here."), Type::Body, Tone::Soft);
    auto* take = new QPushButton(tr("Take a setup from the garage…"));
    auto* example = new QPushButton(tr("Start from an invented car"));
    connect(take, &QPushButton::clicked, keeping_.get(), &PlanKeeping::takeSetup);
    connect(example, &QPushButton::clicked, keeping_.get(), &PlanKeeping::openExample);
    return emptyPage(tr("Nothing on the bench"), {line, take, example});
}

void PlanWorkspace::showPage() {
    parts_->pages->setCurrentIndex(session_->empty() ? 0 : 1);
    emit documentChanged();
}

QWidget* PlanWorkspace::widget() { return parts_->pages; }

QList<QAction*> PlanWorkspace::actions(Menu menu) const {
    switch (menu) {
    case Menu::File:
        return keeping_->fileActions() + printer_->actions() + parts_->ladder->printer().actions();
    case Menu::Own:
        return keeping_->planActions();
    case Menu::Edit:
        return {uncertainty_};
    case Menu::View:
        break;
    }
    return {};
}

QUndoStack* PlanWorkspace::undoStack() { return &session_->undoStack(); }

QString PlanWorkspace::document() const {
    if (session_->empty()) return {};
    const PlanInput& in = session_->input();
    return QStringLiteral("%1 %2/%3")
        .arg(benchTitle(desk_.bench).name)
        .arg(in.gears.pinion_teeth)
        .arg(in.gears.spur_teeth);
}

bool PlanWorkspace::modified() const { return session_->modified(); }

bool PlanWorkspace::mayClose() {
    if (!session_->modified()) return true;
    const int changes = static_cast<int>(session_->changes().size());
    const auto answer =
        QMessageBox::question(parts_->pages, tr("Keep the plan?"),
                              changes == 1 ? tr("One change on the bench is not kept.")
                                           : tr("%1 changes on the bench are not kept.").arg(changes),
                              QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, QMessageBox::Save);
    if (answer == QMessageBox::Discard) recovery_->forget();
    return answer == QMessageBox::Discard || (answer == QMessageBox::Save && keeping_->save());
}

Workspace::Fit PlanWorkspace::fits(const QString& path) const {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) return Fit::No;
    const QByteArray head = file.read(4096);
    const qsizetype mark = head.indexOf("\"runwright\"");
    return mark >= 0 && head.indexOf("\"plan\"", mark) > mark ? Fit::Sure : Fit::No;
}

void PlanWorkspace::openFiles(const QStringList& paths) {
    if (!paths.isEmpty()) keeping_->openFile(paths.last());
}

QByteArray PlanWorkspace::saveState() const {
    QByteArray state;
    QDataStream out(&state, QIODevice::WriteOnly);
    out << parts_->columns->saveState() << parts_->rows->saveState()
        << parts_->tabs->tabText(parts_->tabs->currentIndex()) << parts_->setup->saveState();
    return state;
}

void PlanWorkspace::restoreState(const QByteArray& state) {
    if (state.isEmpty()) return;
    QDataStream in(state);
    QByteArray columns, rows, setup;
    QString tab;
    in >> columns >> rows >> tab >> setup;
    if (in.status() != QDataStream::Ok) return;
    parts_->columns->restoreState(columns);
    parts_->rows->restoreState(rows);
    for (int i = 0; i < parts_->tabs->count(); ++i)
        if (parts_->tabs->tabText(i) == tab) parts_->tabs->setCurrentIndex(i);
    parts_->setup->restoreState(setup);
}

bool PlanWorkspace::busy() const {
    const bool computing = !session_->empty() && !session_->current() && session_->problem().isEmpty();
    return computing || parts_->hold->busy() || parts_->gears->busy() || parts_->heat->busy() ||
           parts_->power->busy() || parts_->ladder->busy() || parts_->matters->busy() || spread_->busy() ||
           recovery_->busy();
}

QList<Scene> PlanWorkspace::scenes() {
    const auto tab = [this](const char* name, QWidget* panel) {
        return Scene{QLatin1String(name), [this, panel] {
                         if (session_->empty()) keeping_->putSomething();
                         parts_->tabs->setCurrentWidget(panel);
                         return nullptr;
                     }};
    };
    // The chances need stated uncertainties: the invented car has some where the setup on the bench has none.
    const auto uncertain = [this](Scene scene) {
        scene.prepare = [this, show = scene.prepare] {
            (void)show();
            if (!spread_->hasUncertainty()) keeping_->openExample();
            return nullptr;
        };
        return scene;
    };
    Scene compare = tab("plan-compare", parts_->compare);
    compare.prepare = [this, show = compare.prepare] {
        (void)show();
        PlanInput next = session_->input();
        next.gears.pinion_teeth += 1;
        session_->edit(tr("one tooth more"), {}, std::move(next));
        parts_->compare->compareWithKept();
        return nullptr;
    };
    // Neither map nor ladder without a target.
    const auto aimed = [this](Scene scene, double target) {
        scene.prepare = [this, target, show = scene.prepare] {
            (void)show();
            PlanInput next = session_->input();
            next.drive.target_mps = target;
            session_->edit(tr("a target"), {}, std::move(next));
            return nullptr;
        };
        return scene;
    };
    Scene power = aimed(tab("plan-power", parts_->power), 42.0);
    Scene picked = power;
    picked.name = QStringLiteral("plan-power-picked");
    picked.prepare = [this, show = power.prepare] {
        (void)show();
        parts_->power->pick(2);
        return nullptr;
    };
    Scene ladder = aimed(tab("plan-ladder", parts_->ladder), 47.0);
    ladder.prepare = [this, show = ladder.prepare] {
        parts_->ladder->setProven(31.0);
        return show();
    };
    const Scene revision{QStringLiteral("plan-revision"), [this]() -> QWidget* {
                             auto* dialog = new RevisionDialog(*session_, parts_->pages);
                             dialog->setReason(tr("One tooth more: the motor had room left."));
                             return dialog;
                         }};
    const Scene after{QStringLiteral("plan"), [this] {
                          session_->stopComparing();
                          session_->putBackAll();
                          parts_->tabs->setCurrentIndex(0);
                          return nullptr;
                      }};
    return {tab("plan-heat", parts_->heat),
            uncertain(tab("plan-matters", parts_->matters)),
            uncertain(tab("plan-chances", parts_->chances)),
            compare,
            power,
            picked,
            ladder,
            revision,
            after};
}

} // namespace rw
