// What goes into the garage from a review: the log in view, and learned values; what is asked before, and who does it.
#pragma once

#include "app/desktop/review/day_taught.h"
#include "app/desktop/review/review_desk.h"
#include "core/review/review.h"
#include "storage/garage.h"

#include <QDialog>
#include <QWidget>

#include <optional>
#include <vector>

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLineEdit;

namespace rw {

// A map of columns as the garage keeps it, named after the file that it was made for.
[[nodiscard]] Part mapPart(const std::string& file, const ColumnMap& map);

struct KeepChoice {
    std::optional<Id> setup, outing;
    std::optional<Outing> newOuting;      // comes in with the log; wins over outing
    std::vector<std::optional<Id>> packs; // by session; none, or fewer than sessions: the setup's
    std::string notes;
};

// Puts the log in view into the garage: its untouched bytes, what was found in it, the setup and outing it belongs to.
// It is read and judged anew by what the garage knows of that setup, as every kept log is, beside the interface thread
// and on a garage object of its own; log and new outing come in as one.
class LogKeeper : public QObject {
    Q_OBJECT
public:
    explicit LogKeeper(ReviewDesk& review, QObject* parent = nullptr);
    void keep(const KeepChoice& choice);
    [[nodiscard]] bool busy() const { return runner_.busy(); }

signals:
    void kept(const QString& sentence);

private:
    struct Kept;
    void tell(const Kept& kept);

    ReviewDesk& review_;
    JobRunner runner_; // last: ends before the rest goes
};

// Which pack ran each session of a log: one row a session, every one the setup's pack until another is picked.
class SessionPacks : public QWidget {
    Q_OBJECT
public:
    SessionPacks(const std::vector<ReviewSession>& sessions, const std::vector<Part>& packs);

    void choose(std::size_t session, std::optional<Id> pack); // none: the setup's
    // By session; none: the setup's.
    [[nodiscard]] std::vector<std::optional<Id>> chosen() const;
    [[nodiscard]] const std::vector<QComboBox*>& boxes() const { return boxes_; }

private:
    std::vector<QComboBox*> boxes_;
};

class KeepDialog : public QDialog {
    Q_OBJECT
public:
    KeepDialog(ReviewDesk& review, QWidget* parent = nullptr); // the garage is open
    [[nodiscard]] KeepChoice choice() const;

    [[nodiscard]] QComboBox& setup() { return *setup_; }
    [[nodiscard]] QComboBox& outing() { return *outing_; }
    // Null where the log has one session: its pack is the setup's.
    [[nodiscard]] SessionPacks* packs() { return packs_; }

private:
    void fill();
    void addPacks(QFormLayout& form);
    void takeKept(Garage& garage, Id log); // what the garage knows of the log already
    void showNewOuting();

    ReviewDesk& review_;
    QComboBox *setup_, *outing_, *venue_;
    QLineEdit *outingName_, *date_, *notes_;
    SessionPacks* packs_ = nullptr;
};

// Learned values into the garage: a new revision of the setup, and the parts whose own values change as well. Parts are
// shared, so it says who else uses them and asks.
class AcceptDialog : public QDialog {
    Q_OBJECT
public:
    // Throws GarageError where the setup cannot be read.
    AcceptDialog(Garage& garage, const DayTaught& day, QWidget* parent = nullptr);
    [[nodiscard]] FitAcceptance acceptance() const;

private:
    void addPart(Garage& garage, const Setup& setup, Id part, const LearnReport& report);
    struct Asked {
        Id part;
        QCheckBox* box = nullptr;
    };
    std::vector<Asked> parts_;
    QLineEdit* reason_ = nullptr;
};

} // namespace rw
