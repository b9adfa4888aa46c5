#include "app/desktop/review/log_keeper.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/jobs.h"

#include <algorithm>

namespace rw {

LogKeeper::LogKeeper(ReviewDesk& review, QObject* parent)
    : QObject(parent)
    , review_(review)
    , worker_(
          this, [this](const std::shared_ptr<const LogRecord>& record) { store(*record); },
          [this](const QString& sentence) {
              review_.desk().jobs.end(job_);
              emit complained(tr("The log was not kept"), sentence);
          }) {}

void LogKeeper::keep(const KeepChoice& choice) {
    const auto data = review_.data();
    if (!data) return;
    choice_ = choice;
    job_ = review_.desk().jobs.begin(tr("Packing the log"), [this] {
        worker_.cancel();
        review_.desk().jobs.end(job_);
    });
    worker_.ask([data](std::stop_token) {
        return logRecord(packLog(readBytes(data->source)), *data->log, *data->review, data->options.edits);
    });
}

void LogKeeper::store(const LogRecord& packed) {
    review_.desk().jobs.end(job_);
    LogRecord record = packed;
    QString sentence;
    const bool done = review_.desk().garage.attempt(tr("Keeping the log"), [&](Garage& garage) {
        record.setup = choice_.setup;
        record.outing = choice_.newOuting ? std::optional(garage.addOuting(*choice_.newOuting)) : choice_.outing;
        record.notes = choice_.notes;
        for (std::size_t i = 0; i < std::min(choice_.packs.size(), record.sessions.size()); ++i)
            record.sessions[i].pack = choice_.packs[i];
        const AddedLog added = garage.addLog(record);
        if (added.alreadyThere) storeAgain(garage, added.log, record);
        sentence = added.alreadyThere
                       ? tr("The log was in the garage already; setup, outing and corrections are up to date.")
                       : tr("Kept in the garage: %1, %2.")
                             .arg(counted(added.sessions, tr("session"), tr("sessions")),
                                  counted(added.passes, tr("pass"), tr("passes")));
    });
    if (done) emit kept(sentence);
}

// The same bytes: what was said of them now is what counts.
void LogKeeper::storeAgain(Garage& garage, Id log, const LogRecord& record) const {
    garage.replaceReview(log, record);
    StoredLog stored = garage.log(log);
    stored.setup = record.setup;
    stored.outing = record.outing;
    if (!record.notes.empty()) stored.notes = record.notes;
    garage.updateLog(stored);
    const std::vector<StoredSession> sessions = garage.sessions(log);
    for (std::size_t i = 0; i < std::min(choice_.packs.size(), sessions.size()); ++i)
        garage.setSession(sessions[i].id, std::nullopt, choice_.packs[i]);
}

} // namespace rw
