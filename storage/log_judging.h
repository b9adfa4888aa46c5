// How a log that belongs to a garage is read and judged: one way for the command line, the window, a log that is kept
// already, and samples. First the garage is asked (logJudging), then a pure function reads and reviews on any thread
// (readAndJudge).
#pragma once

#include "core/log/import.h"
#include "core/review/review.h"
#include "storage/garage.h"
#include "storage/log_said.h"

#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// What is known of a log before it is read.
struct LogContext {
    std::optional<Id> setup, outing;
    std::optional<Id> venue;              // none: the outing's, else that of the newest outing with this setup
    std::optional<Id> columnMap;          // none: the first of the owner's that was made for the file's header
    std::vector<std::optional<Id>> packs; // by session; none: the setup's
    LogSaid said;
    ReviewEdits edits;
    std::optional<GpsTrack> track;
    std::string when;      // of the log where no outing tells a date; "": now
    std::optional<Id> log; // where it is kept already: its own passes and later ones are no history of it
};
// That of a log as it is kept.
[[nodiscard]] LogContext logContext(Garage& garage, Id log);

struct OwnMap {
    Id id{ItemKind::ColumnMap, 0};
    ColumnMap map;
};

struct LogJudging {
    ImportOptions import;     // column map, pole pairs, rate
    std::optional<Id> mapId;  // of import.map
    std::vector<OwnMap> maps; // where import has no map
    // The setup's plan with the outing's weather, or its cutoff alone where no venue is known; the packs' and the
    // motor's earlier readings; what the owner said.
    ReviewOptions review;
};
[[nodiscard]] LogJudging logJudging(Garage& garage, const LogContext& context);
[[nodiscard]] LogJudging logJudging(Garage& garage, Id log); // of logContext

// By another plan of the setup, as it lies edited on a bench: what logs taught of it is what still holds of that plan.
void judgeByPlan(Garage& garage, const LogContext& context, const PlanInput& plan, LogJudging& out);

// The maps of the garage that this program can read.
[[nodiscard]] std::vector<OwnMap> ownMaps(Garage& garage);

struct JudgedLog {
    Log log;
    LogReview review;
    ImportOptions import;        // as it was read
    std::optional<Id> columnMap; // of the garage, that it was read with
};
// Throws InputError as importLog and reviewLog, Stopped.
[[nodiscard]] JudgedLog readAndJudge(std::string_view bytes, const std::string& fileName, const LogJudging& judging,
                                     std::stop_token stop = {}, const std::function<void(double)>& progress = {});

// What the garage keeps of it: as logRecord, with everything that the context says.
[[nodiscard]] LogRecord logRecord(PackedLog packed, const JudgedLog& judged, const LogContext& context);

} // namespace rw
