// One log with all that the review workspace draws of it: read, reviewed, and made ready for lanes.
// A value, made off the interface thread, shared and const afterwards.
#pragma once

#include "core/log/import.h"
#include "core/review/compare.h"
#include "core/review/review.h"
#include "plotting/lanes.h"
#include "plotting/range.h"
#include "storage/garage.h"

#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace rw {

struct LaneSource {
    Quantity quantity = Quantity::Time;
    std::shared_ptr<const LaneColumn> column;
};

struct PlanLine { // the plan's prediction of one quantity, from the throttle's start
    Quantity quantity = Quantity::Time;
    PassTrace trace;
};

// Where a log comes from: a file, or the bytes kept in a garage.
struct LogSource {
    std::string path;   // of the file; the kept log's name where it comes from a garage
    std::string garage; // path of the garage; empty: a file
    std::optional<Id> kept;
    [[nodiscard]] bool operator==(const LogSource&) const = default;
};

struct ReviewData {
    int id = 0; // of the open log; stays when it is read again
    LogSource source;
    std::optional<PlanInput> ownPlan; // of the setup it is kept with in the garage; wins over the bench
    ImportOptions import;
    ReviewOptions options;
    std::shared_ptr<const Log> log;
    std::shared_ptr<const LogReview> review;
    // The axis of ribbon and lanes, s: the log-wide axis with the gaps between sessions shortened, so that an hour
    // between two packs does not press the passes flat.
    std::shared_ptr<const LaneTime> time;
    std::vector<double> sessionStart; // of each session on that axis
    std::vector<LaneSource> columns;  // in the order of lanes
    std::vector<PlanLine> predicted;  // empty without a plan

    // Places on that axis.
    [[nodiscard]] double axisTime(std::optional<std::size_t> session, double secondsInSession) const;
    [[nodiscard]] Range spanOfSession(std::size_t session) const;
    [[nodiscard]] Range spanOfPass(std::size_t pass) const;
    [[nodiscard]] Range spanOfFinding(const Finding& finding) const;
    [[nodiscard]] Range span() const; // of the whole log
    // Physical line of the first row at or after a moment.
    [[nodiscard]] std::uint32_t lineAt(double axisMoment) const;
};

// Reads, reviews and prepares. Of the owner's maps the first that was made for the file's header is used, unless the
// import options bring a map of their own. Throws InputError, Stopped.
[[nodiscard]] ReviewData readReview(const LogSource& source, const ImportOptions& import, const ReviewOptions& options,
                                    const std::vector<ColumnMap>& maps, std::stop_token stop,
                                    const std::function<void(double)>& progress);

// The untouched bytes. Throws InputError, GarageError.
[[nodiscard]] std::string readBytes(const LogSource& source);

// The same log judged with other options or edits; what depends on the log alone is kept. Throws as reviewLog.
[[nodiscard]] ReviewData reviewAgain(const ReviewData& base, const ReviewOptions& options, std::stop_token stop);

} // namespace rw
