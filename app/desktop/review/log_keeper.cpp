#include "app/desktop/review/log_keeper.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "core/stopped.h"
#include "storage/log_record.h"

namespace rw {

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
    Part part;
    part.id.kind = ItemKind::ColumnMap;
    part.name = LogKeeper::tr("Columns of %1").arg(QString::fromStdString(nameOf(data.source)).left(150)).toStdString();
    part.document = writeColumnMap(*data.import.map);
    return part;
}

} // namespace

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
    const bool begun =
        runner_.run(tr("Keeping the log"), work,
                    {[this](const QString& sentence) { emit complained(tr("The log was not kept"), sentence); },
                     [this] { emit this->kept(tr("Stopped: the log was not kept.")); }});
    if (!begun) emit complained(tr("The log was not kept"), tr("Another one is being kept: wait for it."));
}

void LogKeeper::tell(const Kept& done) {
    GarageSession& session = review_.desk().garage;
    session.change(tr("Keeping the log"), [&](Garage& garage) { garage.takeSteps(*done.garage); });
    review_.becomeKept(done.data);
    if (!done.backupTrouble.empty())
        emit complained(tr("The daily backup was not made"), QString::fromStdString(done.backupTrouble));
    emit kept(done.added.alreadyThere
                  ? tr("The log was in the garage already; setup, outing and corrections are up to date.")
                  : tr("Kept in the garage: %1, %2.")
                        .arg(counted(static_cast<std::size_t>(done.added.sessions), tr("session"), tr("sessions")),
                             counted(static_cast<std::size_t>(done.added.passes), tr("pass"), tr("passes"))));
}

} // namespace rw
