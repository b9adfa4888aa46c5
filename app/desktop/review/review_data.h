// One log with all that the review workspace draws of it: read, reviewed, and made ready for lanes.
// A value, made off the interface thread, shared and const afterwards.
#pragma once

#include "core/log/import.h"
#include "core/review/compare.h"
#include "core/review/review.h"
#include "core/system/input_file.h"
#include "plotting/lanes.h"
#include "plotting/range.h"
#include "storage/log_judging.h"

#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct LaneSource {
    Quantity quantity = Quantity::Time;
    std::shared_ptr<const LaneColumn> column;
};

struct PlanLine { // what the plan expects of one pass from that pass's own start, from the throttle's start
    Quantity quantity = Quantity::Time;
    std::size_t pass = 0;
    PassTrace trace;
};

// Where a log comes from: a file, or the bytes kept in a garage.
struct LogSource {
    std::string path;   // of the file; the kept log's name where it comes from a garage
    std::string garage; // path of the garage; empty: a file
    std::optional<Id> kept;
    [[nodiscard]] bool operator==(const LogSource&) const = default;
};

// By what a log is judged.
struct Judging {
    std::string garage;             // path, where a garage is open: its column maps, the setup's history
    LogContext context;             // setup, outing, packs; what the owner said, corrections, measured speed
    std::optional<PlanInput> bench; // the plan on the bench, where the log is judged by it
    // Pole pairs, columns and rate as the owner overruled them; wins over what the garage knows.
    std::optional<ImportOptions> import;
};

// What the owner noted of a kept pass: speeds that were read off, the way it was run.
struct PassNote {
    Id pass{ItemKind::Pass, 0};
    std::vector<SpeedNote> speeds;
    Direction direction = Direction::Unknown;
    std::string words;
};

struct ReviewData {
    int id = 0; // of the open log; stays when it is read again
    LogSource source;
    LogContext context;
    ReviewOptions known; // what the garage or the bench knows, without what the context says
    ImportOptions import;
    std::optional<Id> columnMap; // of the garage, that it was read with
    ReviewOptions options;
    std::shared_ptr<const Log> log;
    std::shared_ptr<const LogReview> review;
    std::vector<PassNote> noted; // of each pass; empty: not kept
    std::string digest;          // SHA-256 of the bytes; "" unknown
    // The axis of ribbon and lanes, s: the log-wide axis with the gaps between sessions shortened, so that an hour
    // between two packs does not press the passes flat.
    std::shared_ptr<const LaneTime> time;
    std::vector<double> sessionStart; // of each session on that axis
    std::vector<LaneSource> columns;  // in the order of lanes
    std::vector<PlanLine> predicted;  // of the first hundred passes; empty without a plan, and where it does not fit

    // Places on that axis.
    [[nodiscard]] double axisTime(std::optional<std::size_t> session, double secondsInSession) const;
    [[nodiscard]] Range spanOfSession(std::size_t session) const;
    [[nodiscard]] Range spanOfPass(std::size_t pass) const;
    [[nodiscard]] Range spanOfFinding(const Finding& finding) const;
    [[nodiscard]] Range span() const; // of the whole log
    // Physical line of the first row at or after a moment.
    [[nodiscard]] std::uint32_t lineAt(double axisMoment) const;
};

// The untouched bytes, of a file mapped where that can be done. Throws InputError, GarageError.
class LogBytes {
public:
    explicit LogBytes(const LogSource& source, Garage* garage = nullptr); // of a kept log, where it is open already
    [[nodiscard]] std::string_view view() const { return file_ ? file_->bytes() : std::string_view(kept_); }

private:
    std::string kept_;
    std::unique_ptr<InputFile> file_;
};

// Reads, reviews and prepares. A log of the garage is judged by what the garage knows of it and is said there
// (storage/log_judging.h), whatever else the judging says, but for an import that was overruled.
// Throws InputError, ImportRefusal where only a word about its columns is missing, Stopped.
[[nodiscard]] ReviewData readReview(const LogSource& source, const Judging& judging, std::stop_token stop,
                                    const std::function<void(double)>& progress);
// What the garage knows for a log, without what the owner said of the log itself.
[[nodiscard]] ReviewOptions knownOf(Garage& garage, const LogContext& context);
// What is noted of its passes, and its digest, as the garage has them now.
void takeNotes(ReviewData& data, Garage& garage);
// From what was read and judged: ready for the lanes.
[[nodiscard]] ReviewData reviewOf(const LogSource& source, std::shared_ptr<const JudgedLog> judged,
                                  const LogContext& context, const ReviewOptions& known, std::stop_token stop);

// The same log judged anew; what depends on the log alone is kept. The garage is asked only where another setup,
// outing or pack is to judge. Throws as reviewLog.
[[nodiscard]] ReviewData reviewAgain(const ReviewData& base, const Judging& judging, std::stop_token stop);

} // namespace rw
