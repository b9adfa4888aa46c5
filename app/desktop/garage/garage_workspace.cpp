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
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/laying_out.h"

#include <QAction>
#include <QEvent>
#include <QFile>
#include <QFileInfo>
#include <QMenu>
#include <QPushButton>
#include <QStackedWidget>
#include <QUndoStack>

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
    newCar_ = tagged(new QAction(tr("New car &from its labels"), this), "newCarFromLabels");
    carLabels_ = tagged(new QAction(tr("Labels of &this car…"), this), "labelsOfCar");
    carLabels_->setStatusTip(tr("Change a label: what still is an estimate follows"));
    newCar_->setStatusTip(tr("A first plan from what a scale, a ruler and the boxes tell"));
    actions_ = new GarageActions(
        desk_, pages_, [this] { return page_->shown(); }, [this] { return tree_->chosenKind(); }, this);
    files_ = new GarageFiles(
        desk_, pages_, [this] { return page_->shown(); }, this);
    emptyGarage_ = makeEmptyGarage();
    pages_->addWidget(emptyGarage_);
    search_ = new QAction(tr("&Search the garage"), this);
    search_->setShortcut(QKeySequence::Find);
    retired_ = new QAction(tr("Show &what is retired"), this);
    retired_->setCheckable(true);
    auto* separator = new QAction(this);
    separator->setSeparator(true);
    widget_ = pages_;
    undo_ = actions_->steps().undoStack();
    menus_ = {{Menu::Own, QList<QAction*>{newCar_, carLabels_} + actions_->partActions() + QList<QAction*>{separator} +
                              files_->actions()},
              {Menu::View, {retired_}},
              {Menu::Edit, {search_}}};

    connectParts();
    pages_->installEventFilter(this);
    refresh();
}

void GarageWorkspace::connectParts() {
    connect(newCar_, &QAction::triggered, this, &GarageWorkspace::showLabels);
    connect(carLabels_, &QAction::triggered, this, &GarageWorkspace::showLabelsOfCar);
    connect(labels_, &LabelsPage::closed, this, &GarageWorkspace::closeLabels);
    connect(labels_, &LabelsPage::kept, this, [this] { actions_->steps().note(); });
    connect(labels_, &LabelsPage::benched, this, [this] { emit wantsWorkspace(QStringLiteral("plan")); });
    connect(labels_, &LabelsPage::said, this, &Workspace::said);
    connect(labels_, &LabelsPage::complained, this, &Workspace::complained);
    connect(search_, &QAction::triggered, side_, &GarageSide::focusSearch);
    connect(retired_, &QAction::toggled, tree_, &GarageTree::setRetiredShown);
    connect(tree_, &GarageTree::chose, this, [this](Id id) {
        page_->show(id);
        refreshLabels();
        actions_->refresh();
        files_->refresh();
    });
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
    connect(actions_, &GarageActions::said, this, &Workspace::said);
    connect(actions_, &GarageActions::complained, this, &Workspace::complained);
    connect(files_, &GarageFiles::imported, this, &GarageWorkspace::showThing);
    connect(files_, &GarageFiles::restored, &actions_->steps(), &GarageSteps::forget);
    connect(files_, &GarageFiles::said, this, &Workspace::said);
    connect(files_, &GarageFiles::complained, this, &Workspace::complained);
    connect(&desk_.garage, &GarageSession::opened, this, &GarageWorkspace::refresh);
    connect(&desk_.garage, &GarageSession::changed, this, &GarageWorkspace::refresh);
}

QWidget* GarageWorkspace::makeEmptyPage() {
    auto* line = new TextLabel(tr("Open one, start a new one, or look at the invented sample garage first."),
                               Type::Body, Tone::Soft);
    auto* labels = new QPushButton(tr("New car from its labels"));
    auto* sample = new QPushButton(tr("Open the sample garage"));
    auto* fresh = new QPushButton(tr("Start my own garage"));
    connect(labels, &QPushButton::clicked, this, &GarageWorkspace::showLabels);
    connect(sample, &QPushButton::clicked, this, [this] { desk_.garage.openSample(GarageSession::samplePath()); });
    connect(fresh, &QPushButton::clicked, this, [this] {
        const QString path = GarageSession::defaultPath();
        if (QFileInfo::exists(path))
            desk_.garage.open(path);
        else
            desk_.garage.create(path);
    });
    return emptyPage(tr("The garage remembers every vehicle, pack, motor and setup, and every pass they made."),
                     {line, labels, sample, fresh});
}

QWidget* GarageWorkspace::makeEmptyGarage() {
    QList<QWidget*> below{
        new TextLabel(tr("Begin with what you have: a vehicle, a motor, a pack. Or keep a plan as a setup, or a "
                         "log after a day at the strip; both end up here."),
                      Type::Body, Tone::Soft)};
    for (QAction* action : {newCar_, actions_->partActions().front(), files_->actions().at(1)}) {
        auto* button = new QPushButton(action->text());
        button->setToolTip(action->toolTip());
        connect(button, &QPushButton::clicked, action, &QAction::trigger);
        connect(action, &QAction::changed, button, [button, action] { button->setEnabled(action->isEnabled()); });
        below << button;
    }
    return emptyPage(tr("This garage is empty yet"), below);
}

bool GarageWorkspace::holdsNothing() {
    bool nothing = false;
    desk_.garage.look([&](Garage& garage) {
        nothing = std::ranges::all_of(allKinds(), [&](ItemKind kind) { return garage.count(kind, true) == 0; });
    });
    return nothing;
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
    std::optional<LabelledCar> car;
    if (!desk_.garage.look([&](Garage& garage) { car = labelledCar(garage, *chosen); }) || !car) return;
    emit wantsWorkspace(name());
    pages_->setCurrentWidget(labels_);
    labels_->edit(*car);
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
            emit complained(tr("Import"), tr("Open or start a garage first; then drop the document again."));
        }
    }
}

bool GarageWorkspace::busy() const { return files_->busy() || labels_->busy() || actions_->steps().busy(); }

Scene GarageWorkspace::sceneOf(const QString& name, ItemKind kind) {
    return {name, [this, kind]() -> QWidget* {
                if (desk_.garage.isOpen()) {
                    const auto rows = desk_.garage.garage().list(kind);
                    if (!rows.empty()) showThing(rows.back().id);
                }
                return nullptr;
            }};
}

QList<Scene> GarageWorkspace::scenes() {
    const auto value = [this]() -> QWidget* {
        Value mass;
        mass.number = 4.3;
        return new ValueDialog("vehicle.mass_kg", mass, desk_.units, pages_);
    };
    const auto setup = [this]() -> QWidget* {
        QWidget* dialog = nullptr;
        desk_.garage.look([&](Garage& garage) { dialog = new SetupDialog(garage, {}, pages_); });
        return dialog;
    };
    const auto labels = [this]() -> QWidget* {
        labels_->sheet().setLabels(exampleLabels());
        showLabels();
        return nullptr;
    };
    const auto leaveLabels = [this](const Scene& scene) {
        return Scene{scene.name, [this, scene] {
                         closeLabels();
                         return scene.prepare();
                     }};
    };
    return {{QStringLiteral("garage-labels"), labels},
            leaveLabels(sceneOf(QStringLiteral("garage-vehicle"), ItemKind::Vehicle)),
            sceneOf(QStringLiteral("garage-pack"), ItemKind::Pack),
            sceneOf(QStringLiteral("garage-motor"), ItemKind::Motor),
            sceneOf(QStringLiteral("garage-venue"), ItemKind::Venue),
            {QStringLiteral("garage-add"), [this] { return new PartDialog(ItemKind::Vehicle, desk_.units, pages_); }},
            {QStringLiteral("garage-value"), value},
            {QStringLiteral("garage-setup"), setup}};
}

} // namespace rw
