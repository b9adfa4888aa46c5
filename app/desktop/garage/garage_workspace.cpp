#include "app/desktop/garage/garage_workspace.h"

#include "app/desktop/garage/garage_actions.h"
#include "app/desktop/garage/garage_files.h"
#include "app/desktop/garage/garage_side.h"
#include "app/desktop/garage/garage_tree.h"
#include "app/desktop/garage/labels_page.h"
#include "app/desktop/garage/labels_sheet.h"
#include "app/desktop/garage/part_dialog.h"
#include "app/desktop/garage/part_page.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"

#include <QAction>
#include <QEvent>
#include <QFile>
#include <QFileInfo>
#include <QMenu>
#include <QStackedWidget>

#include <algorithm>

namespace rw {

GarageWorkspace::GarageWorkspace(const Desk& desk, QObject* parent)
    : Workspace(QStringLiteral("garage"), tr("Garage"), parent)
    , desk_(desk) {
    tree_ = new GarageTree(desk_.garage);
    page_ = new PartPage(desk_);
    side_ = new GarageSide(desk_);
    columns_ = splitter(Qt::Horizontal, {tree_, page_, side_});
    columns_->setStretchFactor(1, 1);
    // Together they fit the window at twice the scale, 800 wide.
    tree_->setMinimumWidth(22 * gridStep);
    side_->setMinimumWidth(32 * gridStep);
    page_->setMinimumWidth(44 * gridStep);
    columns_->setSizes({30 * gridStep, 100 * gridStep, 40 * gridStep});
    pages_ = new QStackedWidget;
    noGarage_ = makeEmptyPage();
    lay(*pages_, {noGarage_, columns_});
    labels_ = new LabelsPage(desk_);
    pages_->addWidget(labels_);
    newCar_ = tagged(action(this, tr("New car &from its labels"),
                            tr("A first plan from what a scale, a ruler and the boxes tell"), [this] { showLabels(); }),
                     "newCarFromLabels");
    carLabels_ = tagged(action(this, tr("Labels of &this car…"),
                               tr("Change a label: what still is an estimate follows"), [this] { showLabelsOfCar(); }),
                        "labelsOfCar");
    actions_ = new GarageActions(
        desk_, pages_, [this] { return page_->shown(); }, [this] { return tree_->chosenKind(); }, this);
    files_ = new GarageFiles(
        desk_, pages_, [this] { return page_->shown(); }, this);
    emptyGarage_ = makeEmptyGarage();
    pages_->addWidget(emptyGarage_);
    auto* search = action(
        this, tr("&Search the garage"), {}, [this] { side_->focusSearch(); }, QKeySequence::Find);
    auto* retired = new QAction(tr("Show &what is retired"), this);
    retired->setCheckable(true);
    connect(retired, &QAction::toggled, tree_, &GarageTree::setRetiredShown);
    widget_ = pages_;
    undo_ = actions_->steps().undoStack();
    menus_ = {{Menu::Own, QList<QAction*>{newCar_, carLabels_} + actions_->partActions() +
                              QList<QAction*>{separator(this)} + files_->actions()},
              {Menu::View, {retired}},
              {Menu::Edit, {search}}};

    connectParts();
    pages_->installEventFilter(this);
    refresh();
}

void GarageWorkspace::connectParts() {
    connect(labels_, &LabelsPage::closed, this, &GarageWorkspace::closeLabels);
    connect(labels_, &LabelsPage::kept, this, [this] { actions_->steps().note(); });
    connect(labels_, &LabelsPage::benched, this, [this] { emit wantsWorkspace(QStringLiteral("plan")); });
    connect(tree_, &GarageTree::chose, this, &GarageWorkspace::showPageOf);
    connect(tree_, &GarageTree::contextMenuWanted, this, [this](const QPoint& at) {
        QMenu menu(pages_);
        menu.addActions(actions_->partActions());
        menu.addSeparator();
        menu.addActions(files_->actions().mid(0, 1));
        menu.exec(at);
    });
    connect(page_, &PartPage::benchWanted, actions_, &GarageActions::putOnBench);
    connect(page_, &PartPage::editWanted, actions_,
            [this](const QString& key) { actions_->editValue(key.toStdString()); });
    connect(side_, &GarageSide::wanted, this, &GarageWorkspace::showThing);
    connect(side_, &GarageSide::revisionWanted, this, [this](Id vehicle, Id setup) {
        showThing(vehicle);
        page_->chooseRevision(setup);
    });
    const auto openInReview = [this](Id id) { emit wantsOpen({QString::fromStdString(toString(id))}); };
    connect(side_, &GarageSide::openWanted, this, openInReview);
    connect(page_, &PartPage::openWanted, this, openInReview);
    connect(actions_, &GarageActions::made, this, &GarageWorkspace::showThing);
    connect(actions_, &GarageActions::benched, this, [this] { emit wantsWorkspace(QStringLiteral("plan")); });
    connect(files_, &GarageFiles::imported, this, &GarageWorkspace::showThing);
    connect(files_, &GarageFiles::restored, &actions_->steps(), &GarageSteps::forget);
    connect(&desk_.garage, &GarageSession::opened, this, &GarageWorkspace::refresh);
    connect(&desk_.garage, &GarageSession::changed, this, &GarageWorkspace::refresh);
}

QWidget* GarageWorkspace::makeEmptyPage() {
    auto* line = new TextLabel(tr("Open one, start a new one, or look at the invented sample garage first."),
                               Type::Body, Tone::Soft);
    auto* labels = button(tr("New car from its labels"), this, &GarageWorkspace::showLabels);
    auto* sample =
        button(tr("Open the sample garage"), this, [this] { desk_.garage.openSample(GarageSession::samplePath()); });
    auto* fresh = button(tr("Start my own garage"), this, [this] { desk_.garage.openDefault(); });
    return emptyPage(tr("The garage remembers every vehicle, pack, motor and setup, and every pass they made."),
                     {line, labels, sample, fresh});
}

QWidget* GarageWorkspace::makeEmptyGarage() {
    QList<QWidget*> below{
        new TextLabel(tr("Begin with what you have: a vehicle, a motor, a pack. Or keep a plan as a setup, or a "
                         "log after a day at the strip; both end up here."),
                      Type::Body, Tone::Soft)};
    for (QAction* action : {newCar_, actions_->partActions().front(), files_->actions().at(1)}) {
        auto* does = button(action->text(), action, &QAction::trigger);
        does->setToolTip(action->toolTip());
        connect(action, &QAction::changed, does, [does, action] { does->setEnabled(action->isEnabled()); });
        below << does;
    }
    return emptyPage(tr("This garage is empty yet"), below);
}

bool GarageWorkspace::holdsNothing() {
    const auto nothing = desk_.garage.answer([](Garage& garage) {
        return std::ranges::all_of(allKinds(), [&](ItemKind kind) { return garage.count(kind, true) == 0; });
    });
    return nothing.value_or(false);
}

QWidget* GarageWorkspace::pageNow() {
    if (!desk_.garage.isOpen()) return noGarage_;
    return holdsNothing() ? emptyGarage_ : columns_;
}

// Filled when it is seen: another workspace may be on show for hours.
bool GarageWorkspace::eventFilter(QObject* watched, QEvent* event) {
    if (watched == pages_ && event->type() == QEvent::Show && stale_) refresh();
    return Workspace::eventFilter(watched, event);
}

void GarageWorkspace::refresh() {
    actions_->refresh();
    files_->refresh();
    stale_ = !pages_->isVisible();
    if (stale_) return;
    if (pages_->currentWidget() != labels_) pages_->setCurrentWidget(pageNow());
    tree_->refresh();
    page_->show(tree_->chosen());
    refreshLabels();
    side_->refresh();
    actions_->refresh();
    files_->refresh();
    emit documentChanged();
}

void GarageWorkspace::showThing(Id id) {
    tree_->choose(id);
    showPageOf(id);
}

void GarageWorkspace::showPageOf(Id id) {
    page_->show(id);
    refreshLabels();
    actions_->refresh();
    files_->refresh();
}

void GarageWorkspace::showLabels() {
    emit wantsWorkspace(name());
    pages_->setCurrentWidget(labels_);
    labels_->begin();
}

void GarageWorkspace::showLabelsOfCar() {
    const auto chosen = page_->shown();
    if (!chosen || chosen->kind != ItemKind::Vehicle) return;
    const auto car = desk_.garage.answer([&](Garage& garage) { return labelledCar(garage, *chosen); });
    if (!car || !*car) return;
    emit wantsWorkspace(name());
    pages_->setCurrentWidget(labels_);
    labels_->edit(**car);
}

// Only of a vehicle that came from labels.
void GarageWorkspace::refreshLabels() {
    const auto chosen = page_->shown();
    bool labelled = false;
    if (chosen && chosen->kind == ItemKind::Vehicle && desk_.garage.writable())
        desk_.garage.look([&](Garage& garage) { labelled = !garage.part(*chosen).document.empty(); });
    carLabels_->setEnabled(labelled);
}

void GarageWorkspace::closeLabels() {
    pages_->setCurrentWidget(pageNow());
    refresh();
}

QString GarageWorkspace::document() const {
    return desk_.garage.isOpen() ? QFileInfo(desk_.garage.path()).completeBaseName() : QString();
}

Workspace::Fit GarageWorkspace::fits(const QString& path) const {
    if (GarageSession::looksLikeGarage(path)) return Fit::Sure;
    QFile file(path);
    if (!path.endsWith(QLatin1String(".json"), Qt::CaseInsensitive) || !file.open(QIODevice::ReadOnly)) return Fit::No;
    constexpr qint64 beginning = 400;
    return file.read(beginning).contains("\"garage-exchange\"") ? Fit::Sure : Fit::No;
}

void GarageWorkspace::openFiles(const QStringList& paths) {
    for (const QString& path : paths) {
        if (GarageSession::looksLikeGarage(path)) {
            if (desk_.garage.open(path)) emit fileOpened(path);
        } else if (desk_.garage.isOpen()) {
            files_->importFrom(path);
        } else {
            emit desk_.voice.complained(tr("Import"),
                                        tr("Open or start a garage first; then drop the document again."));
        }
    }
}

bool GarageWorkspace::busy() const { return files_->busy() || labels_->busy() || actions_->steps().busy(); }

QList<Scene> GarageWorkspace::scenes() {
    // The newest thing of a kind, behind whatever was open.
    const auto thing = [this](const char* name, ItemKind kind) {
        return Scene{QLatin1String(name), [this, kind] {
                         if (pages_->currentWidget() == labels_) closeLabels();
                         if (!desk_.garage.isOpen()) return;
                         const auto rows = desk_.garage.garage().list(kind);
                         if (!rows.empty()) showThing(rows.back().id);
                     }};
    };
    const auto labels = [this] {
        labels_->sheet().setLabels(exampleLabels());
        showLabels();
    };
    const auto value = [this] {
        Value mass;
        mass.number = 4.3;
        return new ValueDialog("vehicle.mass_kg", mass, desk_.units, pages_);
    };
    const auto setup = [this]() -> QWidget* {
        return desk_.garage.answer([this](Garage& garage) { return new SetupDialog(garage, {}, pages_); })
            .value_or(nullptr);
    };
    return {
        {QStringLiteral("garage-labels"), labels},
        thing("garage-vehicle", ItemKind::Vehicle),
        thing("garage-pack", ItemKind::Pack),
        thing("garage-motor", ItemKind::Motor),
        thing("garage-venue", ItemKind::Venue),
        {QStringLiteral("garage-add"), {}, [this] { return new PartDialog(ItemKind::Vehicle, desk_.units, pages_); }},
        {QStringLiteral("garage-value"), {}, value},
        {QStringLiteral("garage-setup"), {}, setup}};
}

} // namespace rw
