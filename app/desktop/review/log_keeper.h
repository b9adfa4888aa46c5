// Puts the log in view into the garage: its untouched bytes, what was found in it, the setup and outing it belongs to.
// It is read and judged anew by what the garage knows of that setup, as every kept log is, beside the interface thread
// and on a garage object of its own; log and new outing come in as one.
#pragma once

#include "app/desktop/review/review_desk.h"

namespace rw {

struct KeepChoice {
    std::optional<Id> setup, outing;
    std::optional<Outing> newOuting;      // comes in with the log; wins over outing
    std::vector<std::optional<Id>> packs; // by session; none, or fewer than sessions: the setup's
    std::string notes;
};

class LogKeeper : public QObject {
    Q_OBJECT
public:
    explicit LogKeeper(ReviewDesk& review, QObject* parent = nullptr);
    void keep(const KeepChoice& choice);
    [[nodiscard]] bool busy() const { return runner_.busy(); }

signals:
    void kept(const QString& sentence);
    void complained(const QString& title, const QString& sentence);

private:
    struct Kept;
    void tell(const Kept& kept);

    ReviewDesk& review_;
    JobRunner runner_; // last: ends before the rest goes
};

} // namespace rw
