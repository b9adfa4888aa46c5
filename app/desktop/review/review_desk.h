// The logs that are open in Review: reading and judging them off the interface thread, the axis and the selection that
// all panels share, corrections with undo. Panels know this object and no other panel.
#pragma once

#include "app/desktop/review/review_data.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"
#include "core/log/import_refusal.h"
#include "plotting/axis_link.h"

#include <QObject>
#include <QUndoStack>

#include <memory>
#include <optional>
#include <thread>
#include <vector>

namespace rw {

struct RefusedLog {
    LogSource source;
    QString sentence;
    ImportSurvey survey;
};

class ReviewDesk : public QObject {
    Q_OBJECT
public:
    using DataPtr = std::shared_ptr<const ReviewData>;

    ReviewDesk(const Desk& desk, QUndoStack& undo);

    // Reads a log beside those that are open and shows it; a path that is open already is read again. One at a time:
    // further ones wait.
    void open(const QString& path);
    // A log of the open garage, judged by the setup that it is kept with; at one of its passes where one is told.
    void openKept(Id log, std::optional<std::size_t> pass = {});
    // The log in view read again, with what the owner overruled.
    void readAgain(const ImportOptions& import);
    // A log that was refused for want of a map.
    void readMapped(const LogSource& source, const ImportOptions& import);
    void closeLog(int id);
    void show(int id);
    // A track of measured speed for the log in view. Throws InputError.
    void setTrack(const QString& path);
    void setJudging(const LogSaid& said);
    void setAgainstBench(bool on); // judge by the setup on the bench, where one lies there

    [[nodiscard]] DataPtr data() const { return data_; } // null: none open
    [[nodiscard]] const std::vector<DataPtr>& logs() const { return logs_; }
    [[nodiscard]] bool againstBench() const { return againstBench_; }
    [[nodiscard]] bool busy() const { return reader_.busy() || judge_.busy(); }
    // Of a pass of the log in view, which is kept: into the garage.
    void setNote(std::size_t pass, const PassNote& note);
    // The log in view lies in the garage now: as it was read and judged for keeping.
    void becomeKept(const std::shared_ptr<ReviewData>& kept);
    // By what a log in view would be judged: for whoever keeps it.
    [[nodiscard]] std::shared_ptr<const ReviewData> find(int id) const;
    [[nodiscard]] QString loading() const { return loading_; } // name of the file that is being read; empty: none
    [[nodiscard]] const Desk& desk() const { return desk_; }
    [[nodiscard]] QUndoStack& undoStack() { return undo_; }

    // One axis for ribbon and lanes: the log-wide axis, s.
    [[nodiscard]] AxisLink& axis() { return axis_; }

    [[nodiscard]] std::optional<std::size_t> pass() const { return pass_; } // index into the review's passes
    void choosePass(std::optional<std::size_t> pass);
    void goToPass(std::size_t pass); // chooses it and brings it into view
    void goToSession(std::size_t session);
    void goToFinding(std::size_t finding); // brings its evidence into view, the cursor on the worst moment

    // Corrections, each one step of undo.
    void edit(const QString& text, const ReviewEdits& edits);
    [[nodiscard]] ReviewEdits edits() const { return latestContext().edits; }

signals:
    void logsChanged(); // opened, closed, or another in view
    void dataChanged(); // the log in view, or what was found in it
    void busyChanged();
    void passChosen();
    void findingShown(int finding);
    void opened(const QString& path); // read for the first time; empty: from the garage
    // Refused only because nobody said what its columns are: whoever knows maps them and calls readMapped().
    void mappingWanted(std::shared_ptr<const rw::RefusedLog> refused);
    void complained(const QString& title, const QString& sentence);

private:
    struct Wanted {
        int id = 0;
        LogSource source;
        LogContext context; // of a kept log the garage tells it anew
        std::optional<ImportOptions> import;
        std::optional<std::size_t> pass; // to go to
    };
    void adopt(const DataPtr& data);
    void setEdits(int log, const ReviewEdits& edits);
    void judge(LogContext context);
    [[nodiscard]] LogContext latestContext() const; // what was asked last, judged or not yet
    [[nodiscard]] Judging judgingBy(LogContext context, bool kept) const;
    void readNext();
    void lookAnew(const DataPtr& data);
    void letGo(DataPtr data); // frees it beside the interface thread: hundreds of megabytes take their time
    void read(Wanted wanted);

    Desk desk_;
    QUndoStack& undo_;
    AxisLink axis_;
    std::vector<DataPtr> logs_;
    DataPtr data_;
    std::optional<LogContext> asked_; // of the log in view, while it is being judged
    std::optional<std::size_t> pass_;
    bool againstBench_ = true;
    QString loading_;
    std::vector<Wanted> waiting_;
    int lastId_ = 0;
    JobRunner reader_;
    LatestWorker<ReviewData> judge_;
    std::jthread lettingGo_;
};

} // namespace rw
