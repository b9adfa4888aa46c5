#include "app/desktop/review/keeping.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"
#include "core/plan/plan_fields.h"
#include "core/stopped.h"
#include "storage/log_record.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDate>
#include <QLineEdit>

#include <algorithm>
#include <set>

namespace rw {

namespace {

const QString none; // data of "not told"
const QString fresh = QStringLiteral("new");

// The item of an id; the first, "not told", where there is none.
void choose(QComboBox& box, const std::optional<Id>& id) {
    box.setCurrentIndex(std::max(0, box.findData(id ? QString::fromStdString(toString(*id)) : none)));
}

constexpr std::size_t rowsInSight = 5;

QString packText(const Part& pack) {
    QString text = QString::fromStdString(pack.name);
    const auto cells = pack.values.find("pack.series");
    if (cells != pack.values.end() && cells->second.number)
        text += SessionPacks::tr(" · %1 cells").arg(static_cast<int>(*cells->second.number));
    if (pack.retired) text += SessionPacks::tr(" · retired");
    return text;
}

QString sessionText(std::size_t index, const ReviewSession& session) {
    QString text = SessionPacks::tr("Session %1").arg(index + 1);
    if (session.cells) text += SessionPacks::tr(" · %1 cells").arg(*session.cells);
    return text;
}

// Labels of what was determined of a kind of part.
QStringList learnedOf(const LearnReport& report, ItemKind kind) {
    QStringList labels;
    for (const LearnedParameter& one : report.parameters) {
        const PlanField* field = findPlanField(one.key);
        if (one.determined && field != nullptr && keyFits(*field, kind)) labels << fieldLabel(*field);
    }
    return labels;
}

// Vehicles, other than the setup's own, whose setups hold the part.
QStringList othersWith(Garage& garage, const Setup& setup, Id part) {
    std::set<Id> vehicles;
    for (const Setup& other : garage.setups())
        if (other.vehicle != setup.vehicle &&
            (other.motor == part || other.controller == part || other.pack == part || other.tyre == part))
            vehicles.insert(other.vehicle);
    QStringList names;
    for (const Id vehicle : vehicles)
        names << QString::fromStdString(garage.part(vehicle).name);
    return names;
}

} // namespace

struct LogKeeper::Kept {
    std::shared_ptr<Garage> garage; // that did it: its step can be undone by the window's
    AddedLog added;
    std::shared_ptr<ReviewData> data; // as it is in the garage now
    std::string backupTrouble;
};

namespace {

LogContext contextOf(const ReviewData& data, const KeepChoice& choice) {
    LogContext context = data.context;
    context.setup = choice.setup;
    context.outing = choice.newOuting ? std::nullopt : choice.outing;
    context.venue = choice.newOuting ? choice.newOuting->venue : std::nullopt;
    if (choice.newOuting) context.when = choice.newOuting->date;
    context.packs = choice.packs;
    context.columnMap = data.columnMap;
    return context;
}

// What the garage keeps is told by its name, wherever the file lay.
std::string nameOf(const LogSource& source) { return source.path.substr(source.path.find_last_of('/') + 1); }

// A map that the owner made in the window and has not kept comes along: else the log could not be read so again.
std::optional<Part> ownMap(const ReviewData& data) {
    if (data.columnMap || !data.import.map) return std::nullopt;
    return mapPart(nameOf(data.source), *data.import.map);
}

} // namespace

Part mapPart(const std::string& file, const ColumnMap& map) {
    Part part;
    part.id.kind = ItemKind::ColumnMap;
    part.name = LogKeeper::tr("Columns of %1").arg(QString::fromStdString(file).left(150)).toStdString();
    part.document = writeColumnMap(map);
    return part;
}

LogKeeper::LogKeeper(ReviewDesk& review, QObject* parent)
    : QObject(parent)
    , review_(review)
    , runner_(review.desk().jobs) {}

void LogKeeper::keep(const KeepChoice& choice) {
    const auto data = review_.data();
    if (!data || !review_.desk().garage.isOpen()) return;
    const std::string path = review_.desk().garage.path().toStdString();
    const auto work = [this, data, choice, path](const WorkOptions& options) -> JobRunner::Done {
        GarageOptions own;
        own.stop = options.stop;
        Kept kept{std::make_shared<Garage>(Garage::open(path, own)), {}, {}, {}};
        Garage& garage = *kept.garage;
        const LogContext context = contextOf(*data, choice);
        LogJudging how = logJudging(garage, context);
        if (const std::optional<ColumnMap>& map = data->import.map; map && !data->columnMap) {
            how.import.map = map;
            how.import.text = map->text;
            how.maps.clear();
        }
        const LogBytes bytes(data->source);
        const auto judged = std::make_shared<const JudgedLog>(
            readAndJudge(bytes.view(), nameOf(data->source), how, options.stop, options.progress));
        LogRecord record = logRecord(packLog(bytes.view()), *judged, context);
        record.notes = choice.notes;
        throwIfStopped(options.stop);
        kept.backupTrouble = garage.backupIfDue().problem;
        kept.added = garage.keepLog(record, {choice.newOuting, ownMap(*data)});
        const LogContext stored = logContext(garage, kept.added.log);
        kept.data = std::make_shared<ReviewData>(reviewOf({garage.log(kept.added.log).name, path, kept.added.log},
                                                          judged, stored, knownOf(garage, stored), {}));
        kept.data->id = data->id;
        takeNotes(*kept.data, garage);
        return [this, kept] { tell(kept); };
    };
    const auto complain = [this](const QString& why) {
        emit review_.desk().voice.complained(tr("The log was not kept"), why);
    };
    const auto stopped = [this] { emit kept(tr("Stopped: the log was not kept.")); };
    if (!runner_.run(tr("Keeping the log"), work, {complain, stopped}))
        complain(tr("Another one is being kept: wait for it."));
}

void LogKeeper::tell(const Kept& done) {
    GarageSession& session = review_.desk().garage;
    session.change(tr("Keeping the log"), [&](Garage& garage) { garage.takeSteps(*done.garage); });
    review_.becomeKept(done.data);
    if (!done.backupTrouble.empty())
        emit review_.desk().voice.complained(tr("The daily backup was not made"),
                                             QString::fromStdString(done.backupTrouble));
    emit kept(done.added.alreadyThere
                  ? tr("The log was in the garage already; setup, outing and corrections are up to date.")
                  : tr("Kept in the garage: %1, %2.")
                        .arg(counted(static_cast<std::size_t>(done.added.sessions), tr("session"), tr("sessions")),
                             counted(static_cast<std::size_t>(done.added.passes), tr("pass"), tr("passes"))));
}

KeepDialog::KeepDialog(ReviewDesk& review, QWidget* parent)
    : QDialog(parent)
    , review_(review)
    , setup_(named(new QComboBox, tr("Setup that ran")))
    , outing_(named(new QComboBox, tr("Outing")))
    , venue_(named(new QComboBox, tr("Venue of the new outing")))
    , outingName_(named(new QLineEdit, tr("Name of the new outing")))
    , date_(named(new QLineEdit(QDate::currentDate().toString(Qt::ISODate)), tr("Date of the new outing")))
    , notes_(named(new QLineEdit, tr("Notes"))) {
    setWindowTitle(tr("Keep the log in the garage"));
    auto* words =
        paragraph(tr("The bytes are stored untouched, so the log can always be read again."), Type::Body, Tone::Soft);
    auto* form = formIn();
    form->addRow(tr("&Setup"), setup_);
    form->addRow(tr("&Outing"), outing_);
    form->addRow(tr("&Name"), outingName_);
    form->addRow(tr("&Date"), date_);
    form->addRow(tr("&Venue"), venue_);
    form->addRow(tr("No&tes"), notes_);
    addPacks(*form);
    date_->setPlaceholderText(QStringLiteral("2026-11-21"));
    auto* column = dialogColumn(*this);
    lay(*column,
        {words, form, slack(), dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Keep"))});
    connect(outing_, &QComboBox::currentIndexChanged, this, &KeepDialog::showNewOuting);
    fill();
    showNewOuting();
    resize(460, sizeHint().height());
}

void KeepDialog::addPacks(QFormLayout& form) {
    const auto& sessions = review_.data()->review->sessions;
    if (sessions.size() < 2) return;
    std::vector<Part> packs;
    review_.desk().garage.attempt(tr("Reading packs"),
                                  [&](Garage& garage) { packs = garage.parts(ItemKind::Pack, true); });
    packs_ = new SessionPacks(sessions, packs);
    form.addRow(tr("Packs"), packs_);
}

void KeepDialog::takeKept(Garage& garage, Id log) {
    const StoredLog stored = garage.log(log);
    choose(*setup_, stored.setup);
    choose(*outing_, stored.outing);
    notes_->setText(QString::fromStdString(stored.notes));
    if (packs_ == nullptr) return;
    Id usual{ItemKind::Pack, 0};
    if (stored.setup) usual = garage.setup(*stored.setup).pack;
    for (const StoredSession& session : garage.sessions(log)) {
        const std::optional<Id>& pack = session.record.pack;
        if (pack && *pack != usual) packs_->choose(static_cast<std::size_t>(session.index), pack);
    }
}

void KeepDialog::fill() {
    setup_->addItem(tr("not told"), none);
    outing_->addItem(tr("a new outing"), fresh);
    outing_->addItem(tr("none"), none);
    venue_->addItem(tr("not told"), none);
    review_.desk().garage.attempt(tr("Reading setups and outings"), [this](Garage& garage) {
        for (const Setup& setup : garage.setups())
            addItem(*setup_, setup.name + " · " + tr("revision %1").arg(setup.revision).toStdString(), setup.id);
        for (const Outing& outing : garage.outings())
            addItem(*outing_, outing.name + " · " + outing.date, outing.id);
        for (const Part& venue : garage.parts(ItemKind::Venue))
            addItem(*venue_, venue.name, venue.id);
    });
    const BenchContent& bench = review_.desk().bench.content();
    choose(*setup_, idFromText(bench.setupId.toStdString()));
    choose(*venue_, idFromText(bench.venueId.toStdString()));
    const LogSource& source = review_.data()->source;
    if (source.kept && source.garage == review_.desk().garage.garage().path())
        review_.desk().garage.attempt(tr("Reading the kept log"),
                                      [&](Garage& garage) { takeKept(garage, *source.kept); });
}

void KeepDialog::showNewOuting() {
    const bool isNew = outing_->currentData().toString() == fresh;
    for (QWidget* field : std::initializer_list<QWidget*>{outingName_, date_, venue_})
        field->setEnabled(isNew);
    if (isNew && outingName_->text().isEmpty()) outingName_->setText(tr("Outing of %1").arg(date_->text()));
}

KeepChoice KeepDialog::choice() const {
    KeepChoice choice;
    choice.setup = chosenId(*setup_);
    choice.notes = notes_->text().trimmed().toStdString();
    if (packs_ != nullptr) choice.packs = packs_->chosen();
    if (outing_->currentData().toString() != fresh) {
        choice.outing = chosenId(*outing_);
        return choice;
    }
    Outing made;
    made.name = outingName_->text().trimmed().toStdString();
    made.date = date_->text().trimmed().toStdString();
    made.venue = chosenId(*venue_);
    if (choice.setup) made.setups.push_back(*choice.setup);
    choice.newOuting = made;
    return choice;
}

SessionPacks::SessionPacks(const std::vector<ReviewSession>& sessions, const std::vector<Part>& packs) {
    auto* list = new QWidget;
    auto* form = formIn(list);
    form->setContentsMargins(0, 0, 0, 0);
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        auto* box = boxes_.emplace_back(named(new QComboBox, tr("Pack of session %1").arg(i + 1)));
        box->addItem(tr("the setup’s pack"), none);
        for (const Part& pack : packs)
            addItem(*box, packText(pack).toStdString(), pack.id);
        form->addRow(sessionText(i, sessions[i]), box);
    }
    auto* scroll = scrolled(list, Qt::StrongFocus);
    const int row = boxes_.empty() ? 0 : boxes_.front()->sizeHint().height() + gridStep;
    scroll->setFixedHeight(row * static_cast<int>(std::min(rowsInSight, boxes_.size())));
    columnIn(this)->addWidget(scroll);
}

void SessionPacks::choose(std::size_t session, std::optional<Id> pack) {
    if (session < boxes_.size()) rw::choose(*boxes_[session], pack);
}

std::vector<std::optional<Id>> SessionPacks::chosen() const {
    std::vector<std::optional<Id>> packs;
    for (const QComboBox* box : boxes_)
        packs.push_back(chosenId(*box));
    return packs;
}

AcceptDialog::AcceptDialog(Garage& garage, const DayTaught& day, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Keep what was learned"));
    setMinimumWidth(58 * gridStep);
    const Setup setup = garage.setup(*day.data->context.setup);
    auto* column = dialogColumn(*this);
    auto* words = paragraph(tr("%1 gets a new revision with the learned values and how sure they are, marked as "
                               "fitted. What was typed or measured stays in the history; one undo brings it back.")
                                .arg(QString::fromStdString(setup.name)),
                            Type::Body);
    column->addWidget(words);
    auto* parts = paragraph(tr("Change the parts themselves too? Setups made from them later begin with it."),
                            Type::Body, Tone::Soft);
    column->addWidget(parts);
    for (const Id part : {setup.vehicle, setup.tyre, setup.motor, setup.controller, setup.pack})
        addPart(garage, setup, part, day.report);
    parts->setVisible(!parts_.empty());
    auto* form = closeForm();
    reason_ = addLine(*form, tr("&Why"), tr("learned from %1").arg(QString::fromStdString(day.data->source.path)));
    lay(*column, {form, dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Keep"))});
}

void AcceptDialog::addPart(Garage& garage, const Setup& setup, Id part, const LearnReport& report) {
    const QStringList learned = part.stored() ? learnedOf(report, part.kind) : QStringList();
    if (learned.isEmpty()) return;
    const QStringList others = othersWith(garage, setup, part);
    QString text = QStringLiteral("%1 “%2”: %3")
                       .arg(kindSingular(part.kind), QString::fromStdString(garage.part(part).name),
                            learned.join(QStringLiteral(", ")));
    if (!others.isEmpty()) text += tr(" · serves %1 too").arg(others.join(QStringLiteral(", ")));
    auto* box = new QCheckBox(text.replace(u'&', QStringLiteral("&&")));
    box->setChecked(others.isEmpty());
    layout()->addWidget(box);
    parts_.push_back({part, box});
}

FitAcceptance AcceptDialog::acceptance() const {
    FitAcceptance out;
    out.reason = reason_->text().trimmed().toStdString();
    for (const Asked& one : parts_)
        if (one.box->isChecked()) out.parts.push_back(one.part);
    return out;
}

} // namespace rw
