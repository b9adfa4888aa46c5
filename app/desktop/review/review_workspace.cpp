#include "app/desktop/review/review_workspace.h"

#include "app/desktop/pages/page_printer.h"
#include "app/desktop/review/findings_panel.h"
#include "app/desktop/review/import_dialog.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/log_panels.h"
#include "app/desktop/review/pass_panel.h"
#include "app/desktop/review/review_actions.h"
#include "app/desktop/review/review_head.h"
#include "app/desktop/review/session_ribbon.h"
#include "app/desktop/review/taught_panel.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"

#include <QByteArray>
#include <QDataStream>
#include <QFile>
#include <QFileInfo>
#include <QHeaderView>
#include <QIODevice>
#include <QMenu>
#include <QPointer>
#include <QStackedWidget>
#include <QTabBar>
#include <QTabWidget>

#include <algorithm>

namespace rw {

namespace {

// Every figure of every pass.
FigureTable* allFigures(ReviewDesk& review) {
    auto* table = new ValueTable(2, ReviewWorkspace::tr("Every figure of every pass"), FigureTable::ExtendedSelection);
    // Names and units as wide as they are; passes alike, so that no number of them has to be measured.
    QHeaderView* heads = table->horizontalHeader();
    heads->setStretchLastSection(false);
    heads->setSectionResizeMode(QHeaderView::Interactive);
    heads->setDefaultSectionSize(11 * gridStep);
    const auto show = [&review, table, heads] {
        showPassFigures(table->values(), review);
        for (int words = 0; words < std::min(2, heads->count()); ++words)
            heads->setSectionResizeMode(words, QHeaderView::ResizeToContents);
    };
    QObject::connect(&review, &ReviewDesk::dataChanged, table, show);
    QObject::connect(&review.desk().units, &Units::changed, table, show);
    show();
    return table;
}

bool isUtf16(const QByteArray& head) { return head.startsWith("\xFF\xFE") || head.startsWith("\xFE\xFF"); }

} // namespace

struct ReviewWorkspace::Parts {
    QPointer<QStackedWidget> pages; // the window's once it has a parent
    QSplitter *columns = nullptr, *side = nullptr;
    QTabWidget* tabs = nullptr;
    LanesPanel* lanes = nullptr;
    OverlayPanel* overlay = nullptr;
    FigureTable* figures = nullptr;
    TaughtPanel* taught = nullptr;
    FindingsPanel* findings = nullptr;
    TextLabel* waiting = nullptr;
};

ReviewWorkspace::ReviewWorkspace(const Desk& desk, QObject* parent)
    : Workspace(QStringLiteral("review"), tr("Review"), parent)
    , desk_(desk)
    , steps_(std::make_unique<QUndoStack>())
    , review_(std::make_unique<ReviewDesk>(desk, *steps_))
    , parts_(std::make_unique<Parts>()) {
    widget_ = parts_->pages = new QStackedWidget;
    undo_ = steps_.get();
    actions_ = std::make_unique<ReviewActions>(*review_, parts_->pages);
    makeEmptyPage();
    makePages();
    connectAll();
    menus_ = {{Menu::File, actions_->file()},
              {Menu::Edit, actions_->edit()},
              {Menu::Own, actions_->own()},
              {Menu::View, {parts_->lanes->chooser()->menuAction()}}};
    showPage();
}

ReviewWorkspace::~ReviewWorkspace() {
    if (parts_->pages != nullptr && parts_->pages->parentWidget() == nullptr) delete parts_->pages;
}

void ReviewWorkspace::makeEmptyPage() {
    parts_->waiting = new TextLabel(QString(), Type::Body, Tone::Soft);
    auto* open = button(tr("Open log…"), actions_.get(), &ReviewActions::chooseFiles);
    parts_->pages->addWidget(emptyPage(tr("Drop a log on the window"), {parts_->waiting, open}));
}

void ReviewWorkspace::makePages() {
    Parts& p = *parts_;
    p.lanes = new LanesPanel(*review_);
    p.overlay = new OverlayPanel(*review_);
    p.figures = allFigures(*review_);
    p.taught = new TaughtPanel(*review_);
    p.tabs = new QTabWidget;
    p.tabs->setDocumentMode(true);
    p.tabs->tabBar()->setDrawBase(false);
    p.tabs->tabBar()->setExpanding(false);
    p.tabs->addTab(p.lanes, tr("Lanes"));
    p.tabs->addTab(p.overlay, tr("Passes over each other"));
    p.tabs->addTab(p.figures, tr("All figures"));
    p.tabs->addTab(p.taught, tr("What this day taught"));

    auto* head = new ReviewHead(*review_);
    connect(head, &ReviewHead::importWanted, actions_.get(), &ReviewActions::showImport);
    auto* middle = new QWidget;
    lay(*columnIn(middle, gridStep, {3 * gridStep, 2 * gridStep, 2 * gridStep, gridStep}),
        {head, new CellsQuestion(*review_), new SessionRibbon(*review_), grow(p.tabs)});

    p.findings = new FindingsPanel(*review_);
    auto* passes = new PassPanel(*review_);
    connect(passes, &PassPanel::noteWanted, actions_->noteAction(), &QAction::trigger);
    p.side = splitter(Qt::Vertical, {p.findings, passes});
    p.side->setSizes({62 * gridStep, 34 * gridStep});
    auto* right = new QWidget;
    lay(*columnIn(right, usualSpacing, {2 * gridStep, 2 * gridStep, 2 * gridStep, 2 * gridStep}), {p.side});
    right->setMinimumWidth(36 * gridStep);

    p.columns = splitter(Qt::Horizontal, {middle, right});
    p.columns->setStretchFactor(0, 1);
    p.columns->setSizes({115 * gridStep, 43 * gridStep});
    p.pages->addWidget(p.columns);
}

void ReviewWorkspace::connectAll() {
    connect(review_.get(), &ReviewDesk::dataChanged, this, &ReviewWorkspace::showPage);
    connect(review_.get(), &ReviewDesk::logsChanged, this, &Workspace::documentChanged);
    connect(review_.get(), &ReviewDesk::busyChanged, this, &ReviewWorkspace::showPage);
    connect(review_.get(), &ReviewDesk::complained, &desk_.voice, &Voice::complained);
    connect(review_.get(), &ReviewDesk::mappingWanted, actions_.get(), &ReviewActions::askForMap);
    connect(review_.get(), &ReviewDesk::opened, this, [this](const QString& path) {
        if (!path.isEmpty()) emit fileOpened(path);
    });
    connect(actions_.get(), &ReviewActions::filesChosen, this, &ReviewWorkspace::openFiles);
    connect(&actions_->keeper(), &LogKeeper::kept, &desk_.voice, &Voice::said);
}

void ReviewWorkspace::showPage() {
    parts_->pages->setCurrentIndex(review_->data() ? 1 : 0);
    parts_->waiting->setText(
        review_->loading().isEmpty()
            ? tr("Any delimited text with a header: sessions, passes, figures and findings appear here. "
                 "A GPX or NMEA track adds measured speed.")
            : tr("Reading %1 …").arg(review_->loading()));
    emit documentChanged();
}

QString ReviewWorkspace::document() const {
    const auto data = review_->data();
    return data ? QFileInfo(QString::fromStdString(data->source.path)).fileName() : QString();
}

Workspace::Fit ReviewWorkspace::fits(const QString& path) const {
    const auto id = idFromText(path.toStdString());
    if (id && (id->kind == ItemKind::Log || id->kind == ItemKind::Pass))
        return desk_.garage.isOpen() ? Fit::Sure : Fit::No;
    const LogFileKind kind = logFileKind(path);
    if (kind == LogFileKind::PerhapsLog) return Fit::Maybe;
    return kind == LogFileKind::Other ? Fit::No : Fit::Sure;
}

void ReviewWorkspace::openFiles(const QStringList& paths) {
    for (const QString& path : paths) {
        const auto id = idFromText(path.toStdString());
        if (id && id->kind == ItemKind::Log) {
            review_->openKept(*id);
        } else if (id && id->kind == ItemKind::Pass) {
            desk_.garage.look([&](Garage& garage) {
                const StoredPass pass = garage.pass(*id);
                review_->openKept(pass.log, static_cast<std::size_t>(pass.index));
            });
        } else if (logFileKind(path) == LogFileKind::Track) {
            if (!review_->data()) {
                emit desk_.voice.complained(
                    tr("Open the log first"),
                    tr("A track of measured speed belongs to a log: open the log, then the track."));
                continue;
            }
            try {
                review_->setTrack(path);
            } catch (const std::exception& error) {
                emit desk_.voice.complained(tr("The track was not added"), QString::fromUtf8(error.what()));
            }
        } else {
            review_->open(path);
        }
    }
}

QByteArray ReviewWorkspace::saveState() const {
    QByteArray state;
    QDataStream out(&state, QIODevice::WriteOnly);
    out << parts_->columns->saveState() << parts_->side->saveState() << parts_->tabs->currentIndex()
        << parts_->lanes->hiddenKeys();
    return state;
}

void ReviewWorkspace::restoreState(const QByteArray& state) {
    if (state.isEmpty()) return;
    QDataStream in(state);
    QByteArray columns;
    QByteArray side;
    int tab = 0;
    QStringList hidden;
    in >> columns >> side >> tab >> hidden;
    if (in.status() != QDataStream::Ok) return;
    parts_->columns->restoreState(columns);
    parts_->side->restoreState(side);
    parts_->tabs->setCurrentIndex(tab);
    parts_->lanes->setHiddenKeys(hidden);
}

bool ReviewWorkspace::busy() const {
    const bool alive = parts_->pages != nullptr;
    const bool filling = alive && (parts_->findings->filling() || parts_->taught->busy());
    return review_->busy() || actions_->keeper().busy() || actions_->printer().busy() || filling;
}

void ReviewWorkspace::openSomething() {
    if (review_->data() || review_->busy() || !desk_.garage.isOpen()) return;
    const std::vector<StoredLog> logs = desk_.garage.garage().logs();
    const auto most = std::ranges::max_element(logs, {}, &StoredLog::passes);
    if (most != logs.end()) review_->openKept(most->id);
}

QList<Scene> ReviewWorkspace::scenes() {
    using Do = std::function<void()>;
    const auto scene = [this](
                           const char* name, QWidget* tab, const Do& then = [] {}) {
        return Scene{QLatin1String(name), [this, tab, then] {
                         openSomething();
                         parts_->tabs->setCurrentWidget(tab);
                         then();
                     }};
    };
    const auto dialog = [this, scene](const char* name, const std::function<QWidget*()>& make) {
        Scene made = scene(name, parts_->lanes);
        made.dialog = [this, make] { return review_->data() ? make() : nullptr; };
        return made;
    };
    const auto worst = [this] {
        const auto data = review_->data();
        if (!data || data->review->findings.empty()) return;
        const auto& findings = data->review->findings;
        const auto most = std::ranges::max_element(findings, {}, &Finding::severity);
        review_->goToFinding(static_cast<std::size_t>(most - findings.begin()));
    };
    const auto learned = [this] {
        if (!parts_->taught->day()) parts_->taught->learn();
    };
    return {
        scene("review", parts_->lanes, [this] { review_->axis().showAll(); }),
        scene("review-finding", parts_->lanes, worst),
        scene("review-passes", parts_->overlay),
        scene("review-figures", parts_->figures),
        scene("review-taught", parts_->taught, learned),
        dialog("review-import", [this] { return new ImportDialog(*review_, parts_->pages); }),
        dialog("review-keep",
               [this] { return desk_.garage.isOpen() ? new KeepDialog(*review_, parts_->pages) : nullptr; }),
    };
}

LogFileKind logFileKind(const QString& path) {
    QFile file(path);
    if (!QFileInfo(path).isFile() || !file.open(QIODevice::ReadOnly)) return LogFileKind::Other;
    const QByteArray head = file.read(4096);
    if (head.contains("<gpx") || head.startsWith("$GP") || head.startsWith("$GN")) return LogFileKind::Track;
    if (head.startsWith("SQLite format 3") || head.startsWith("%PDF")) return LogFileKind::Other;
    if (head.trimmed().startsWith('{') && head.contains("\"runwright\"")) return LogFileKind::Other;
    const QString suffix = QFileInfo(path).suffix().toLower();
    const bool named = suffix == QLatin1String("csv") || suffix == QLatin1String("tsv") ||
                       suffix == QLatin1String("log") || suffix == QLatin1String("txt");
    if (named) return LogFileKind::Log; // whether it can be read is said by the importer, in words
    if (head.contains('\0') && !isUtf16(head)) return LogFileKind::Other;
    return head.contains('\n') ? LogFileKind::PerhapsLog : LogFileKind::Other;
}

} // namespace rw
