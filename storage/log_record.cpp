#include "storage/log_record.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "core/log/column_map.h"
#include "core/system/clock.h"

#include <nlohmann/json.hpp>

#include <limits>

namespace rw {

namespace {

using nlohmann::json;

constexpr std::string_view documentName = "review-edits";
constexpr int documentVersion = 1;

json spanJson(const LineSpan& span) { return json::array({span.first, span.last}); }

std::uint32_t lineFrom(const JsonValue& value, const std::string& place) {
    const double number = value.number;
    if (value.type != JsonValue::Type::Number || number < 0.0 || number > std::numeric_limits<std::uint32_t>::max() ||
        number != static_cast<double>(static_cast<std::uint32_t>(number)))
        throw InputError(place, "expected a line number");
    return static_cast<std::uint32_t>(number);
}

std::pair<std::uint32_t, std::uint32_t> pairFrom(const JsonValue& value, const std::string& place) {
    if (value.type != JsonValue::Type::List || value.items.size() != 2)
        throw InputError(place, "expected two line numbers");
    return {lineFrom(value.items[0], place), lineFrom(value.items[1], place)};
}

LineSpan spanFrom(const JsonValue& value, const std::string& place) {
    const auto [first, last] = pairFrom(value, place);
    return {first, last};
}

// Calls `take` for each entry of a list that may be missing.
template<class Take>
void forEach(const JsonValue& document, std::string_view name, const Take& take) {
    const JsonValue* list = document.find(name);
    if (list == nullptr) return;
    const std::string place = std::string(documentName) + ": " + std::string(name);
    if (list->type != JsonValue::Type::List) throw InputError(place, "expected a list");
    for (const JsonValue& item : list->items)
        take(item, place);
}

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

std::string writeReviewEdits(const ReviewEdits& edits) {
    if (edits.empty()) return {};
    json out{{"runwright", documentName}, {"version", documentVersion}};
    out["added_sessions"] = edits.addedSessions;
    out["removed_sessions"] = edits.removedSessions;
    json& movedSessions = out["moved_sessions"] = json::array();
    for (const auto& moved : edits.movedSessions)
        movedSessions.push_back(json::array({moved.from, moved.to}));
    json& added = out["added_passes"] = json::array();
    for (const LineSpan& span : edits.addedPasses)
        added.push_back(spanJson(span));
    json& removed = out["removed_passes"] = json::array();
    for (const LineSpan& span : edits.removedPasses)
        removed.push_back(spanJson(span));
    json& movedPasses = out["moved_passes"] = json::array();
    for (const auto& moved : edits.movedPasses)
        movedPasses.push_back({{"from", spanJson(moved.from)}, {"to", spanJson(moved.to)}});
    return out.dump();
}

ReviewEdits readReviewEdits(const std::string& text) {
    ReviewEdits out;
    if (text.empty()) return out;
    const std::string name(documentName);
    const JsonValue document = parseJson({text, name});
    const JsonValue* kind = document.find("runwright");
    const JsonValue* version = document.find("version");
    if (kind == nullptr || kind->text != name || version == nullptr || version->number != documentVersion)
        throw InputError(name, "expected a document of version 1");
    forEach(document, "added_sessions",
            [&](const JsonValue& v, const std::string& at) { out.addedSessions.push_back(lineFrom(v, at)); });
    forEach(document, "removed_sessions",
            [&](const JsonValue& v, const std::string& at) { out.removedSessions.push_back(lineFrom(v, at)); });
    forEach(document, "moved_sessions", [&](const JsonValue& v, const std::string& at) {
        const auto [from, to] = pairFrom(v, at);
        out.movedSessions.push_back({from, to});
    });
    forEach(document, "added_passes",
            [&](const JsonValue& v, const std::string& at) { out.addedPasses.push_back(spanFrom(v, at)); });
    forEach(document, "removed_passes",
            [&](const JsonValue& v, const std::string& at) { out.removedPasses.push_back(spanFrom(v, at)); });
    forEach(document, "moved_passes", [&](const JsonValue& v, const std::string& at) {
        const JsonValue* from = v.find("from");
        const JsonValue* to = v.find("to");
        if (from == nullptr || to == nullptr) throw InputError(at, "expected from and to");
        out.movedPasses.push_back({spanFrom(*from, at), spanFrom(*to, at)});
    });
    return out;
}

} // namespace rw
