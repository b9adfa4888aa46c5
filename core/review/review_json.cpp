// The review as the JSON object of the command line.
#include "core/json/json_write.h"
#include "core/log/quantity.h"
#include "core/review/review.h"

namespace rw {

namespace {

Json sessionJson(const ReviewSession& s) {
    return {{"start_row", s.startRow},
            {"end_row", s.endRow},
            {"start_line", s.startLine},
            {"end_line", s.endLine},
            {"log_start_s", s.logStart},
            {"duration_s", s.duration},
            {"cells", jsonOrNull(s.cells)},
            {"cells_sure", s.cellsSure},
            {"cells_candidates", s.cellCandidates},
            {"resting_V", jsonOrNull(s.restingVoltage)},
            {"current_zero_A", jsonOrNull(s.currentZero)}};
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
        json[std::string(figure.key)] = jsonOrNull(figure.get(pass));
    }
    return json;
}

Json findingJson(const Finding& f) {
    return {{"id", f.id},
            {"severity", severityName(f.severity)},
            {"session", jsonOrNull(f.session)},
            {"pass", jsonOrNull(f.pass)},
            {"at_s", f.at},
            {"from_s", f.from},
            {"to_s", f.to},
            {"seen", textOf(f.seen)},
            {"threshold", textOf(f.threshold)},
            {"meaning", f.meaning},
            {"advice", f.advice}};
}

Json quantityJson(std::optional<Quantity> q) { return q ? Json(quantityKey(*q)) : Json(nullptr); }

Json importJson(const ImportReport& report) {
    Json columns = listJson(report.columns, [](const ImportColumn& c) {
        return Json{{"name", c.name}, {"quantity", quantityJson(c.quantity)}, {"guess", quantityJson(c.guess)},
                    {"unit", c.unit}, {"confidence", c.confidence},           {"unreadable", c.unreadable}};
    });
    Json refused = listJson(report.refused, [](const RefusedRow& r) { return Json{{"line", r.line}, {"why", r.why}}; });
    return {{"encoding", report.encoding},
            {"separator", report.separator},
            {"decimal", report.decimal},
            {"header_line", report.headerLine},
            {"time_form", report.timeForm},
            {"stamp_step_s", report.stampStep_s},
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
    json["sessions"] = listJson(review.sessions, sessionJson);
    json["passes"] = listJson(review.passes, passJson);
    json["findings"] = listJson(review.findings, findingJson);
    json["not_judged"] = listJson(review.notJudged, [](const NotJudged& n) {
        return Json{{"id", n.id}, {"session", jsonOrNull(n.session)}, {"why", n.why}};
    });
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
                       {"offset_s", jsonOrNull(review.track->offset)},
                       {"correlation", jsonOrNull(review.track->correlation)}};
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace rw
