// Puts the log in view into the garage: its untouched bytes, what was found in it, the setup and outing it belongs to.
// Packing the bytes runs off the interface thread.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "storage/log_record.h"

namespace rw {

struct KeepChoice {
    std::optional<Id> setup, outing;
    std::optional<Outing> newOuting;      // made first; wins over outing
    std::vector<std::optional<Id>> packs; // by session; none, or fewer than sessions: the setup's
    std::string notes;
};

class LogKeeper : public QObject {
    Q_OBJECT
public:
    explicit LogKeeper(ReviewDesk& review, QObject* parent = nullptr);
    void keep(const KeepChoice& choice);
    [[nodiscard]] bool busy() const { return worker_.busy(); }

signals:
    void kept(const QString& sentence);
    void complained(const QString& title, const QString& sentence);

private:
    void store(const LogRecord& record);
    void storeAgain(Garage& garage, Id log, const LogRecord& record) const;

    ReviewDesk& review_;
    KeepChoice choice_;
    int job_ = 0;
    LatestWorker<LogRecord> worker_;
};

} // namespace rw
