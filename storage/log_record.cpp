#include "storage/log_record.h"

#include "core/log/column_map.h"
#include "core/system/clock.h"

#include <nlohmann/json.hpp>

namespace rw {

namespace {

using nlohmann::json;

SessionRecord sessionFrom(const ReviewSession& session) {
    SessionRecord out;
    out.startRow = static_cast<std::int64_t>(session.startRow);
    out.endRow = static_cast<std::int64_t>(session.endRow);
    out.startLine = session.startLine;
    out.endLine = session.endLine;
    out.start_s = session.logStart;
    out.duration_s = session.duration;
    out.cells = session.cells;
    out.resting_V = session.restingVoltage;
    return out;
}

PassRecord passFrom(const ReviewPass& pass) {
    PassRecord out;
    out.session = static_cast<int>(pass.session);
    out.start_s = pass.start;
    out.end_s = pass.end;
    out.complete = pass.complete;
    for (const PassFigure& figure : passFigures())
        if (const auto value = figure.get(pass)) out.figures.emplace(figure.key, *value);
    return out;
}

// The first row's date and clock, where the log tells a date; "" else.
std::string startOf(const Log& log) {
    if (timeFormFromName(log.report.timeForm) != TimeForm::Iso8601 || log.time.empty()) return {};
    constexpr double latest = 253402300799.0; // 9999-12-31T23:59:59
    if (!(log.time.front() >= 0.0 && log.time.front() <= latest)) return {};
    return utcText(static_cast<std::time_t>(log.time.front()));
}

} // namespace

LogRecord logRecord(PackedLog packed, const Log& log, const LogReview& review, const ReviewEdits& edits) {
    LogRecord out;
    out.name = log.file.substr(log.file.find_last_of("/\\") + 1);
    if (out.name.empty()) out.name = "log";
    out.packed = std::move(packed);
    out.rows = static_cast<std::int64_t>(log.rows());
    out.started = startOf(log);
    out.review = reviewJson(log, review);
    const json parsed = json::parse(out.review);
    if (const auto import = parsed.find("import"); import != parsed.end()) out.dialect = import->dump();
    out.edits = writeReviewEdits(edits);
    for (const ReviewSession& session : review.sessions)
        out.sessions.push_back(sessionFrom(session));
    for (const ReviewPass& pass : review.passes)
        out.passes.push_back(passFrom(pass));
    return out;
}

} // namespace rw
