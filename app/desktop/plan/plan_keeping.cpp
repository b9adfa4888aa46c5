#include "app/desktop/plan/plan_keeping.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/pick_dialog.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
#include "core/plan/plan_json.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QSaveFile>

#include <algorithm>

namespace rw {

namespace {

const QString setupChoice = QStringLiteral("setup"), venueChoice = QStringLiteral("venue"),
              folderChoice = QStringLiteral("folder");

QString text(const std::string& words) { return QString::fromStdString(words); }

std::vector<PickRow> setupRows(Garage& garage) {
    std::vector<PickRow> rows;
    for (const Setup& setup : garage.setups()) {
        const QString vehicle = setup.vehicle.stored() ? text(garage.part(setup.vehicle).name) : QString();
        const QString name = vehicle.isEmpty() || vehicle == text(setup.name)
                                 ? text(setup.name)
                                 : vehicle + QStringLiteral(" · ") + text(setup.name);
        rows.push_back({text(toString(setup.id)), name, PlanKeeping::tr("revision %1").arg(setup.revision)});
    }
    return rows;
}

std::vector<PickRow> venueRows(Garage& garage) {
    std::vector<PickRow> rows;
    for (const Part& venue : garage.parts(ItemKind::Venue))
        rows.push_back({text(toString(venue.id)), text(venue.name), {}});
    return rows;
}

Id idOf(const QString& id) { return parseId(id.toStdString(), "bench"); }

} // namespace

RevisionDialog::RevisionDialog(PlanSession& session, QWidget* parent)
    : QDialog(parent) {
    const BenchContent& content = session.desk().bench.content();
    setWindowTitle(tr("Keep as revision %1").arg(content.revision + 1));
    resize(70 * gridStep, 56 * gridStep);
    auto* column = dialogColumn(*this);
    column->setSpacing(gridStep);
    auto* table = new ValueTable(1, tr("What changes"), QAbstractItemView::ExtendedSelection);
    ValueRows rows;
    bool course = false;
    for (const PlanField* field : session.changes()) {
        if (!belongsToSetup(*field)) {
            course = true;
            continue;
        }
        rows.push_back({{fieldLabel(*field)},
                        {valueWithUnit(*field, session.units(), session.kept()), {}, Tone::Soft},
                        {valueWithUnit(*field, session.units(), session.input()), {}, Tone::Accent, true}});
    }
    if (rows.empty()) rows.push_back({{tr("uncertainties only")}, {QString()}, {QString()}});
    table->setRows({tr("what"), tr("was"), tr("is")}, std::move(rows));
    auto* note =
        paragraph(tr("Air, wind and venue are not part of a setup: what you changed there stays on the bench only."),
                  Type::Small, Tone::Soft);
    note->setVisible(course);
    reason_ = named(new QPlainTextEdit, tr("Why"));
    reason_->setPlaceholderText(tr("What you want to find out, or what the last pass told you"));
    reason_->setTabChangesFocus(true);
    reason_->setFixedHeight(10 * gridStep);
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Cancel);
    auto* keep = buttons->addButton(tr("Keep revision %1").arg(content.revision + 1), QDialogButtonBox::AcceptRole);
    keep->setDefault(true);
    keep->setEnabled(false);
    keep->setToolTip(tr("A revision needs a reason"));
    lay(*column, {new TextLabel(tr("%1, after revision %2").arg(content.name).arg(content.revision), Type::Heading),
                  grow(table), note, new TextLabel(tr("Why"), Type::Heading), reason_, buttons});
    connect(reason_, &QPlainTextEdit::textChanged, this, [this, keep] { keep->setEnabled(!reason().isEmpty()); });
    reason_->setFocus();
}

PlanKeeping::PlanKeeping(PlanSession& session, QWidget* window)
    : session_(session)
    , window_(window) {
    makeActions();
    connect(&session_, &PlanSession::inputChanged, this, &PlanKeeping::enableActions);
    connect(&session_, &PlanSession::keptChanged, this, &PlanKeeping::enableActions);
    connect(&session_.desk().garage, &GarageSession::opened, this, [this] {
        putRemembered();
        enableActions();
    });
    connect(&session_.desk().bench, &Bench::replaced, this, &PlanKeeping::remember);
    enableActions();
}

void PlanKeeping::makeActions() {
    const auto make = [this](const QString& words, const QKeySequence& keys, std::function<void()> does) {
        return action(this, words, {}, std::move(does), keys);
    };
    save_ = make(tr("&Save plan"), QKeySequence::Save, [this] { save(); });
    saveAs_ = make(tr("Save plan &as…"), Qt::CTRL | Qt::SHIFT | Qt::Key_S, [this] { saveAs(); });
    takeSetup_ = make(tr("&Take a setup from the garage…"), Qt::CTRL | Qt::Key_T, [this] { takeSetup(); });
    openKept_ = make(tr("&Open a plan from the garage…"), Qt::CTRL | Qt::SHIFT | Qt::Key_O, [this] { openKeptPlan(); });
    keepPlan_ = make(tr("Keep as a &plan in the garage…"), Qt::CTRL | Qt::Key_K, [this] { keepPlan(); });
    keepRevision_ = make(tr("Keep as a new &revision…"), Qt::CTRL | Qt::Key_R, [this] { keepRevision(); });
    keepSetup_ = make(tr("Keep as a &setup in the garage…"), {}, [this] { keepSetup(); });
    putBack_ =
        make(tr("Put &everything back"), Qt::CTRL | Qt::SHIFT | Qt::Key_Backspace, [this] { session_.putBackAll(); });
    fileActions_ = {save_, saveAs_};
    planActions_ = {takeSetup_,    openKept_,  separator(this), keepPlan_,
                    keepRevision_, keepSetup_, separator(this), putBack_};
}

void PlanKeeping::enableActions() {
    const bool some = !session_.empty(), garage = session_.desk().garage.isOpen(),
               writable = session_.desk().garage.writable();
    const bool fromGarage = some && !session_.desk().bench.content().setupId.isEmpty();
    save_->setEnabled(some);
    saveAs_->setEnabled(some);
    takeSetup_->setEnabled(garage);
    openKept_->setEnabled(garage);
    keepPlan_->setEnabled(some && writable);
    keepRevision_->setEnabled(fromGarage && writable && session_.differs());
    keepSetup_->setEnabled(some && writable && !fromGarage);
    putBack_->setEnabled(session_.differs());
}

bool PlanKeeping::openFile(const QString& path) {
    try {
        session_.desk().bench.put(benchFromFile(path));
    } catch (const std::exception& error) {
        emit session_.desk().voice.complained(tr("The plan was not opened"), QString::fromUtf8(error.what()));
        return false;
    }
    if (!path.startsWith(u':')) emit fileOpened(path);
    return true;
}

void PlanKeeping::openExample() { openFile(QStringLiteral(":/samples/example.json")); }

void PlanKeeping::putSomething() {
    putRemembered();
    if (session_.empty()) openExample();
}

void PlanKeeping::remember() {
    const BenchContent& content = session_.desk().bench.content();
    if (content.setupId.isEmpty() || content.venueId.isEmpty()) return;
    session_.desk().settings.setText(setupChoice, content.setupId);
    session_.desk().settings.setText(venueChoice, content.venueId);
}

// An empty bench is nobody's wish: what lay there last, else the newest setup at the first venue.
void PlanKeeping::putRemembered() {
    GarageSession& session = session_.desk().garage;
    if (!session_.empty() || !session.isOpen()) return;
    try {
        Garage& garage = session.garage();
        const auto setups = garage.setups();
        const auto venues = garage.parts(ItemKind::Venue);
        if (setups.empty() || venues.empty()) return;
        const auto among = [](const auto& rows, const QString& id) {
            const auto found = std::ranges::find(rows, id, [](const auto& row) { return text(toString(row.id)); });
            return found == rows.end() ? rows.front().id : found->id;
        };
        const Settings& settings = session_.desk().settings;
        session_.desk().bench.put(benchFromSetup(garage, among(setups, settings.text(setupChoice)),
                                                 among(venues, settings.text(venueChoice))));
    } catch (const std::exception& error) {
        emit session_.desk().voice.said(tr("The bench is empty: %1").arg(QString::fromUtf8(error.what())));
    }
}

bool PlanKeeping::saveTo(const QString& path) {
    QSaveFile file(path);
    const QByteArray document = QByteArray::fromStdString(writePlanInput(session_.input()));
    if (!file.open(QIODevice::WriteOnly) || file.write(document) != document.size() || !file.commit()) {
        emit session_.desk().voice.complained(tr("The plan was not saved"),
                                              tr("%1: %2.").arg(QFileInfo(path).fileName(), file.errorString()));
        return false;
    }
    BenchContent content = session_.desk().bench.content();
    content.file = path;
    const bool ofASetup = !content.setupId.isEmpty();
    session_.desk().bench.change(std::move(content));
    if (ofASetup)
        session_.markKeptAs(QFileInfo(path).fileName());
    else
        session_.markKept();
    emit fileOpened(path);
    emit session_.desk().voice.said(tr("Saved %1").arg(QFileInfo(path).fileName()));
    return true;
}

bool PlanKeeping::save() {
    const BenchContent& content = session_.desk().bench.content();
    if (!content.file.isEmpty()) return saveTo(content.file);
    if (session_.desk().garage.writable()) return keepPlan();
    return saveAs();
}

bool PlanKeeping::saveAs() {
    const QString folder = session_.desk().settings.text(folderChoice);
    const QString name = session_.desk().bench.content().name;
    QString path = QFileDialog::getSaveFileName(window_, tr("Save the plan"),
                                                folder + u'/' + name + QStringLiteral(".json"), tr("Plans (*.json)"));
    if (path.isEmpty()) return false;
    if (QFileInfo(path).suffix().isEmpty()) path += QStringLiteral(".json");
    session_.desk().settings.setText(folderChoice, QFileInfo(path).absolutePath());
    return saveTo(path);
}

void PlanKeeping::takeSetup() {
    session_.desk().garage.attempt(tr("Taking a setup"), [this](Garage& garage) {
        PickDialog dialog(tr("Take a setup from the garage"), window_);
        dialog.addList({tr("Setup"), setupRows(garage), tr("No setup yet: make a vehicle and a setup in the Garage.")});
        dialog.addList({tr("Venue"), venueRows(garage),
                        tr("No venue yet: add one in the Garage, with length, run-up and timed zone.")});
        const Settings& settings = session_.desk().settings;
        dialog.pick(0, settings.text(setupChoice));
        dialog.pick(1, settings.text(venueChoice));
        if (dialog.exec() != QDialog::Accepted) return;
        session_.desk().bench.put(benchFromSetup(garage, idOf(dialog.picked(0)), idOf(dialog.picked(1))));
    });
}

void PlanKeeping::openKeptPlan() {
    session_.desk().garage.attempt(tr("Opening a plan"), [this](Garage& garage) {
        const QString plan = pickOne(window_, tr("Open a plan from the garage"),
                                     {tr("Plan"), planRows(garage), tr("No plan is kept yet.")});
        if (!plan.isEmpty()) session_.desk().bench.put(benchFromPlan(garage, idOf(plan)));
    });
}

bool PlanKeeping::keepPlan() {
    const BenchContent& content = session_.desk().bench.content();
    const PlanInput& in = session_.input();
    const QString name = askForName(window_, tr("Keep as a plan"), tr("Name of the plan"),
                                    content.name + u' ' + pairText(in.gears.pinion_teeth, in.gears.spur_teeth));
    return !name.isEmpty() && keepPlanAs(name);
}

bool PlanKeeping::keepPlanAs(const QString& name) {
    return session_.desk().garage.attempt(tr("Keeping the plan"), [this, &name](Garage& garage) {
        const BenchContent& content = session_.desk().bench.content();
        StoredPlan plan;
        plan.name = name.toStdString();
        if (!content.setupId.isEmpty()) plan.setup = idOf(content.setupId);
        if (!content.venueId.isEmpty()) plan.venue = idOf(content.venueId);
        plan.input = writePlanInput(session_.input());
        plan.result = planResultJson(session_.input(), simulatePlan(session_.input()));
        const Id id = garage.addPlan(plan);
        session_.markKeptAs(name);
        emit session_.desk().voice.said(tr("Kept as %1, “%2”").arg(text(toString(id)), name));
    });
}

bool PlanKeeping::keepRevision() {
    RevisionDialog dialog(session_, window_);
    return dialog.exec() == QDialog::Accepted && keepRevisionBecause(dialog.reason());
}

bool PlanKeeping::keepRevisionBecause(const QString& reason) {
    return session_.desk().garage.attempt(tr("Keeping the revision"), [this, &reason](Garage& garage) {
        BenchContent content = session_.desk().bench.content();
        const std::optional<Id> pack = content.packId.isEmpty() ? std::nullopt : std::optional(idOf(content.packId));
        const Id id = garage.reviseFromPlan(idOf(content.setupId), session_.input(), reason.toStdString(), pack);
        content.setupId = text(toString(id));
        content.revision = garage.setup(id).revision;
        session_.desk().bench.change(content);
        PlanInput kept = session_.input();
        kept.air = session_.kept().air;
        kept.wind = session_.kept().wind;
        kept.venue = session_.kept().venue;
        session_.markKept(std::move(kept));
        emit session_.desk().voice.said(tr("Kept as revision %1").arg(content.revision));
    });
}

bool PlanKeeping::keepSetup() {
    const QString name =
        askForName(window_, tr("Keep as a setup"), tr("Name of the vehicle"), session_.desk().bench.content().name);
    if (name.isEmpty()) return false;
    return session_.desk().garage.attempt(tr("Keeping the setup"), [this, &name](Garage& garage) {
        PlanParts parts;
        parts.setup = parts.vehicle = name.toStdString();
        const PlanIds ids = garage.addSetupFromPlan(session_.input(), parts);
        session_.desk().bench.put(benchFromSetup(garage, ids.setup, ids.venue));
        emit session_.desk().voice.said(tr("Kept as a setup, with its parts and its venue"));
    });
}

} // namespace rw
