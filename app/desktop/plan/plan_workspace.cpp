#include "app/desktop/plan/plan_workspace.h"

#include "app/desktop/pages/page_printer.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/plan/bench_recovery.h"
#include "app/desktop/plan/compare_panel.h"
#include "app/desktop/plan/curve_panels.h"
#include "app/desktop/plan/gear_panel.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/ladder_panel.h"
#include "app/desktop/plan/plan_columns.h"
#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_keeping.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/power_beside.h"
#include "app/desktop/plan/power_panel.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/plan/strip_panel.h"
#include "app/desktop/plan/sure_panels.h"
#include "app/desktop/plan/tab_groups.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"

#include <QDataStream>
#include <QFile>
#include <QIODevice>
#include <QMessageBox>
#include <QStackedWidget>

namespace rw {

struct PlanWorkspace::Parts {
    QStackedWidget* pages = nullptr;
    PlanColumns* columns = nullptr;
    QSplitter* rows = nullptr;
    SetupPanel* setup = nullptr;
    StripPanel* strip = nullptr;
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

constexpr int leastHeight = 60 * gridStep; // of strip, speed and tabs together

PlanWorkspace::PlanWorkspace(const Desk& desk, QObject* parent)
    : Workspace(QStringLiteral("plan"), tr("Plan"), parent)
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
    widget_ = p.pages = new QStackedWidget;
    undo_ = &session_->undoStack();
    keeping_ = std::make_unique<PlanKeeping>(*session_, p.pages);
    p.pages->addWidget(makeEmptyPage());
    p.pages->addWidget(p.columns);
    connect(session_.get(), &PlanSession::inputChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::keptChanged, this, &Workspace::documentChanged);
    connect(session_.get(), &PlanSession::replaced, this, &PlanWorkspace::showPage);
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
    const auto edit = [this] {
        parts_->columns->showBench();
        parts_->setup->editUncertainty();
    };
    auto* uncertainty = action(this, tr("Uncertainty (±) of the &field in hand"), {}, edit, Qt::CTRL | Qt::Key_U);
    const auto enable = [this, uncertainty] { uncertainty->setEnabled(!session_->empty()); };
    connect(session_.get(), &PlanSession::inputChanged, uncertainty, enable);
    enable();
    menus_ = {{Menu::File, keeping_->fileActions() + printer_->actions() + parts_->ladder->printer().actions()},
              {Menu::Own, keeping_->planActions()},
              {Menu::Edit, {uncertainty}}};
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
}

PlanWorkspace::~PlanWorkspace() = default;

QWidget* PlanWorkspace::makeMiddle() {
    Parts& p = *parts_;
    p.strip = new StripPanel(*session_, *cursor_);
    makeTabs();
    p.rows = splitter(Qt::Vertical, {p.strip, p.tabs}, 2 * gridStep);
    p.rows->setStretchFactor(0, 5);
    p.rows->setStretchFactor(1, 5);
    p.rows->setSizes({5000, 5000});
    p.rows->setMinimumHeight(leastHeight);
    auto* middle = new QWidget;
    // a low window scrolls rather than squeeze its charts
    lay(*columnIn(middle, usualSpacing, {3 * gridStep, 2 * gridStep, 3 * gridStep, 2 * gridStep}), {scrolled(p.rows)});
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
    p.tabs->addPanel(own, tr("Forces"), new ForcePanel(*session_, *cursor_));
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
    auto* take = button(tr("Take a setup from the garage…"), keeping_.get(), &PlanKeeping::takeSetup);
    auto* example = button(tr("Start from an invented car"), keeping_.get(), &PlanKeeping::openExample);
    return emptyPage(tr("Nothing on the bench"), {line, take, example});
}

void PlanWorkspace::showPage() {
    parts_->pages->setCurrentIndex(session_->empty() ? 0 : 1);
    emit documentChanged();
}

QString PlanWorkspace::document() const {
    if (session_->empty()) return {};
    const PlanInput& in = session_->input();
    return benchTitle(desk_.bench).name + u' ' + pairText(in.gears.pinion_teeth, in.gears.spur_teeth);
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
    const auto tab = [this](
                         const char* name, QWidget* panel, const std::function<void()>& then = [] {}) {
        return Scene{QLatin1String(name), [this, panel, then] {
                         if (session_->empty()) keeping_->putSomething();
                         parts_->tabs->setCurrentWidget(panel);
                         then();
                     }};
    };
    const auto change = [this](const QString& what, const std::function<void(PlanInput&)>& how) {
        PlanInput next = session_->input();
        how(next);
        session_->edit(what, {}, std::move(next));
    };
    // The chances need stated uncertainties: the invented car has some where the setup on the bench has none.
    const auto uncertain = [this] {
        if (!spread_->hasUncertainty()) keeping_->openExample();
    };
    const auto compared = [this, change] {
        change(tr("one tooth more"), [](PlanInput& next) { next.gears.pinion_teeth += 1; });
        parts_->compare->compareWithKept();
    };
    // Neither map nor ladder without a target.
    const auto aimed = [change](double target) {
        change(tr("a target"), [target](PlanInput& next) { next.drive.target_mps = target; });
    };
    const Scene revision{QStringLiteral("plan-revision"), {}, [this] {
                             auto* dialog = new RevisionDialog(*session_, parts_->pages);
                             dialog->setReason(tr("One tooth more: the motor had room left."));
                             return dialog;
                         }};
    const Scene after{QStringLiteral("plan"), [this] {
                          session_->stopComparing();
                          session_->putBackAll();
                          parts_->tabs->setCurrentIndex(0);
                      }};
    return {tab("plan-heat", parts_->heat),
            tab("plan-matters", parts_->matters, uncertain),
            tab("plan-chances", parts_->chances, uncertain),
            tab("plan-compare", parts_->compare, compared),
            tab("plan-power", parts_->power, [aimed] { aimed(42.0); }),
            tab("plan-power-picked", parts_->power,
                [this, aimed] {
                    aimed(42.0);
                    parts_->power->pick(2);
                }),
            tab("plan-ladder", parts_->ladder,
                [this, aimed] {
                    aimed(47.0);
                    parts_->ladder->setProven(31.0);
                }),
            revision,
            after};
}

} // namespace rw
