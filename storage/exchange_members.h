// What an item of the exchange document has, type by type: each member once, in the document's order, for whoever
// writes it (exchange_writer.h), reads it (exchange_reader.h) or asks what it refers to. "within" limits a whole
// number, "ifAny" is a member that is only there where there is something. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

inline constexpr std::string_view exchangeName = "garage-exchange";
inline constexpr int exchangeVersion = 1;
inline constexpr std::size_t largestExchange = 256'000'000; // bytes of the document

// Things as the document has them: passes of a fit by their places in logs, logs with their bytes.
struct PassPlace {
    Id log{ItemKind::Log, 0};
    std::int64_t index = 0; // of the log's passes
};
struct KeptFit : Fit {
    std::vector<PassPlace> places;
};
struct KeptLog : LogRecord {
    Id id{ItemKind::Log, 0};
    bool retired = false;
    std::string created;
};

template<class As>
void members(As& as, ItemHead& head) {
    as("name", head.name), as("notes", head.notes), as("retired", head.retired), as("created", head.created);
}

template<class As>
void members(As& as, Value& value) {
    as("number", value.number), as("text", value.text), as("unit", value.unitShown);
    as("uncertainty", value.uncertainty);
    as.word("source", value.source, sourceName, sourceFromName, [](const std::string& word) {
        return word + " is no source; expected maker's sheet, measured, fitted, guess, label or estimated";
    });
    as("note", value.note);
}

template<class As>
void members(As& as, Part& part) {
    as("description", part.description), as("document", part.document), as("values", part.values);
}

template<class As>
void members(As& as, Setup& setup) {
    as.within("revision", setup.revision, 1, 1'000'000, "a revision is a number from 1");
    std::optional<Id> first = setup.first == setup.id ? std::nullopt : std::optional(setup.first); // null: itself
    as("first", first);
    if (first) setup.first = *first;
    as("parent", setup.parent), as("reason", setup.reason);
    for (const SetupPart& part : setupParts)
        as(part.word, setup.*part.id);
    as("values", setup.values);
    as.ifAny("learned", setup.evidence);
}

template<class As>
void members(As& as, Outing& outing) {
    as("date", outing.date), as("venue", outing.venue), as("setups", outing.setups), as("photos", outing.photos);
    as("values", outing.weather);
}

template<class As>
void members(As& as, StoredPlan& plan) {
    as("setup", plan.setup), as("venue", plan.venue);
    as("input", plan.input), as("result", plan.result), as("settings", plan.settings), as("program", plan.program);
}

template<class As>
void members(As& as, PassPlace& place) {
    as("log", place.log), as("index", place.index);
}

template<class As>
void members(As& as, FittedParameter& parameter) {
    as("key", parameter.key), as("value", parameter.value), as("standard_error", parameter.standardError);
    as("determined", parameter.determined), as("why_not", parameter.whyNot);
    as.ifAny("low", parameter.low), as.ifAny("high", parameter.high);
    as.ifAny("before", parameter.before), as.ifAny("before_deviation", parameter.beforeDeviation);
    as.ifAny("conflict", parameter.conflict);
}

template<class As>
void members(As& as, FittedValue& value) {
    as("item", value.item), as("key", value.key);
}

template<class As>
void members(As& as, KeptFit& fit) {
    as("setup", fit.setup), as("passes", fit.places), as("parameters", fit.parameters);
    as("covariance", fit.covariance), as("report", fit.report), as("program", fit.program);
    as.ifAny("learned", fit.learned), as.ifAny("accepted", fit.accepted);
    if (fit.accepted) as("taken", fit.taken);
}

template<class As>
void members(As& as, SessionRecord& session) {
    as("start_row", session.startRow), as("end_row", session.endRow);
    as("start_line", session.startLine), as("end_line", session.endLine);
    as("start_s", session.start_s), as("duration_s", session.duration_s);
    as.within("cells", session.cells, 1, 100, "a session has 1 to 100 cells");
    as("resting_V", session.resting_V), as("setup", session.setup), as("pack", session.pack);
}

template<class As>
void members(As& as, SpeedNote& noted) {
    const auto kindOf = [](std::string_view word) -> std::optional<SpeedKind> {
        for (const SpeedKind kind : {SpeedKind::ZoneMean, SpeedKind::Peak})
            if (word == speedKindName(kind)) return kind;
        return std::nullopt;
    };
    as.word("kind", noted.kind, speedKindName, kindOf,
            [](const std::string& word) { return word + " is no kind of noted speed; expected timed zone or peak"; });
    as("speed_mps", noted.mps), as("uncertainty_mps", noted.uncertainty_mps);
}

template<class As>
void members(As& as, PassRecord& pass) {
    as.within("session", pass.session, 0, 100'000, "there is no such session");
    as("start_s", pass.start_s), as("end_s", pass.end_s), as("complete", pass.complete);
    as.word("direction", pass.direction, directionName, directionFromName,
            [](const std::string&) { return std::string("a direction is there, back, or empty"); });
    as("notes", pass.notes), as("figures", pass.figures);
    as.ifAny("noted", pass.noted);
}

template<class As>
void members(As& as, KeptLog& log) {
    as("setup", log.setup), as("outing", log.outing), as("column_map", log.columnMap);
    as("started", log.started), as("rows", log.rows), as("dialect", log.dialect);
    as("review", log.review), as("edits", log.edits);
    as.ifAny("judging", log.judging), as.ifAny("track", log.track);
    as("sessions", log.sessions), as("passes", log.passes);
    as.packed(log.packed); // "sha256", "size", "bytes"
}

} // namespace rw::store
