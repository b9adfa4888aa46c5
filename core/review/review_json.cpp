// The review as the JSON object of the command line.
#include "core/log/quantity.h"
#include "core/review/review.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace rw {

namespace {

using Json = nlohmann::ordered_json;

Json number(std::optional<double> value) { return value && std::isfinite(*value) ? Json(*value) : Json(nullptr); }
Json index(std::optional<std::size_t> value) { return value ? Json(*value) : Json(nullptr); }

Json sessionJson(const ReviewSession& s) {
    return {{"start_row", s.startRow},
            {"end_row", s.endRow},
            {"start_line", s.startLine},
            {"end_line", s.endLine},
            {"log_start_s", number(s.logStart)},
            {"duration_s", number(s.duration)},
            {"cells", s.cells ? Json(*s.cells) : Json(nullptr)},
            {"cells_sure", s.cellsSure},
            {"cells_candidates", s.cellCandidates},
            {"resting_V", number(s.restingVoltage)},
            {"current_zero_A", number(s.currentZero)}};
}

Json passJson(const ReviewPass& pass) {
    Json json;
    json["session"] = pass.session;
    for (const PassFigure& figure : passFigures()) {
        if (!figure.printed) continue;
        if (figure.key == "rate_Hz") json["complete"] = pass.complete;
        if (figure.key == "min_V") json["resting_recovering"] = pass.restingRecovering;
        if (figure.key == "motor_soak_predicted_C")
            json["soak_complete"] = pass.motor.soak ? Json(pass.motor.soakComplete) : Json(nullptr);
        json[std::string(figure.key)] = number(figure.get(pass));
    }
    return json;
}

Json findingJson(const Finding& f) {
    return {{"id", f.id},
            {"severity", severityName(f.severity)},
            {"session", index(f.session)},
            {"pass", index(f.pass)},
            {"at_s", number(f.at)},
            {"from_s", number(f.from)},
            {"to_s", number(f.to)},
            {"seen", textOf(f.seen)},
            {"threshold", textOf(f.threshold)},
            {"meaning", f.meaning},
            {"advice", f.advice}};
}

Json quantityJson(std::optional<Quantity> q) { return q ? Json(quantityKey(*q)) : Json(nullptr); }

Json importJson(const ImportReport& report) {
    Json columns = Json::array(), refused = Json::array();
    for (const ImportColumn& c : report.columns)
        columns.push_back({{"name", c.name},
                           {"quantity", quantityJson(c.quantity)},
                           {"guess", quantityJson(c.guess)},
                           {"unit", c.unit},
                           {"confidence", number(c.confidence)},
                           {"unreadable", c.unreadable}});
    for (const RefusedRow& r : report.refused)
        refused.push_back({{"line", r.line}, {"why", r.why}});
    return {{"encoding", report.encoding},
            {"separator", report.separator},
            {"decimal", report.decimal},
            {"header_line", report.headerLine},
            {"time_form", report.timeForm},
            {"stamp_step_s", number(report.stampStep_s)},
            {"columns", std::move(columns)},
            {"rows", report.rows},
            {"rows_refused", std::move(refused)},
            {"rows_refused_count", report.refusedCount},
            {"lines_skipped",
             {{"comment", report.commentLines}, {"empty", report.emptyLines}, {"header", report.headerLines}}}};
}

} // namespace

std::string reviewJson(const Log& log, const LogReview& review) {
    Json json;
    json["file"] = log.file;
    Json sessions = Json::array(), passes = Json::array(), findings = Json::array(), notJudged = Json::array();
    for (const auto& s : review.sessions)
        sessions.push_back(sessionJson(s));
    for (const auto& p : review.passes)
        passes.push_back(passJson(p));
    for (const auto& f : review.findings)
        findings.push_back(findingJson(f));
    for (const auto& n : review.notJudged)
        notJudged.push_back({{"id", n.id}, {"session", index(n.session)}, {"why", n.why}});
    json["sessions"] = std::move(sessions);
    json["passes"] = std::move(passes);
    json["findings"] = std::move(findings);
    json["not_judged"] = std::move(notJudged);
    Json notes = log.notes;
    for (const auto& note : review.notes)
        notes.push_back(note);
    json["notes"] = std::move(notes);
    json["import"] = importJson(log.report);
    json["gps"] = nullptr;
    if (review.track)
        json["gps"] = {{"file", review.track->file},
                       {"fixes", review.track->fixes},
                       {"refused", review.track->refused},
                       {"offset_s", number(review.track->offset)},
                       {"correlation", number(review.track->correlation)}};
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace rw
