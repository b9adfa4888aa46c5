#include "storage/fit_store.h"
#include "core/error.h"
#include "core/json/json_tree.h"
#include "storage/allowed.h"
#include "storage/evidence.h"
#include "storage/program.h"

#include <nlohmann/json.hpp>

namespace rw::store {

namespace {

using nlohmann::json;

void putIfAny(json& object, const char* name, const std::optional<double>& value) {
    if (value) object[name] = *value;
}

std::string parametersJson(const std::vector<FittedParameter>& parameters) {
    json out = json::array();
    for (const FittedParameter& p : parameters) {
        json one{{"key", p.key}, {"value", p.value}, {"determined", p.determined}, {"why_not", p.whyNot}};
        one["standard_error"] = p.standardError ? json(*p.standardError) : json();
        putIfAny(one, "low", p.low);
        putIfAny(one, "high", p.high);
        putIfAny(one, "before", p.before);
        putIfAny(one, "before_deviation", p.beforeDeviation);
        if (!p.conflict.empty()) one["conflict"] = p.conflict;
        out.push_back(std::move(one));
    }
    return out.dump();
}

std::optional<double> numberIn(const JsonValue& object, const char* name) {
    const JsonValue* const found = object.find(name);
    return found != nullptr && found->type == JsonValue::Type::Number ? std::optional(found->number) : std::nullopt;
}

std::vector<FittedParameter> parametersFrom(const std::string& text, const std::string& place) {
    std::vector<FittedParameter> out;
    for (const JsonValue& one : parseJson({text, place}).items) {
        FittedParameter p;
        if (const JsonValue* key = one.find("key")) p.key = key->text;
        if (const JsonValue* determined = one.find("determined")) p.determined = determined->boolean;
        if (const JsonValue* why = one.find("why_not")) p.whyNot = why->text;
        if (const JsonValue* conflict = one.find("conflict")) p.conflict = conflict->text;
        p.value = numberIn(one, "value").value_or(0.0);
        p.standardError = numberIn(one, "standard_error");
        p.low = numberIn(one, "low"), p.high = numberIn(one, "high");
        p.before = numberIn(one, "before"), p.beforeDeviation = numberIn(one, "before_deviation");
        out.push_back(std::move(p));
    }
    return out;
}

void allowFit(const Fit& fit) {
    allowName("name", fit.name);
    allowText("notes", fit.notes, longestNotes);
    allowText("report", fit.report, longestDocument);
    allowText("program", fit.program, longestName);
    allowCount("passes", fit.passes.size());
    if (fit.parameters.size() > 500) throw InputError("parameters", "are more than 500");
    const std::size_t square = fit.parameters.size() * fit.parameters.size();
    if (!fit.covariance.empty() && fit.covariance.size() != square)
        throw InputError("covariance", "has " + std::to_string(fit.covariance.size()) + " numbers; expected " +
                                           std::to_string(square));
    for (const double number : fit.covariance)
        allowNumber("covariance", number);
    for (const FittedParameter& p : fit.parameters) {
        allowName("parameter", p.key);
        allowText("parameter", p.whyNot, longestLine);
        allowText("parameter", p.conflict, longestLine);
        allowNumber(p.key, p.value);
        for (const std::optional<double>& number : {p.standardError, p.low, p.high, p.before, p.beforeDeviation})
            if (number) allowNumber(p.key, *number);
    }
    allowEvidence({{}, fit.learned});
}

Fit fitFrom(Connection& connection, const ItemHead& head) {
    auto out = withHead<Fit>(head);
    Query one(connection,
              "SELECT (SELECT number FROM item WHERE id = setup), parameters, covariance, report, program, gains,"
              " (SELECT number FROM item WHERE id = accepted) FROM fit WHERE item = ?",
              head.row);
    if (!one.step()) throw GarageError(GarageError::Kind::Damaged, toString(head.id) + " is only half there");
    if (const auto setup = one.maybeWhole(0)) out.setup = Id{ItemKind::Setup, *setup};
    out.parameters = parametersFrom(one.text(1), toString(head.id));
    const std::string covariance = one.text(2);
    for (const JsonValue& number : parseJson({covariance, toString(head.id)}).items)
        out.covariance.push_back(number.number);
    out.report = one.text(3);
    out.program = one.text(4);
    out.learned = readLearnedInput(one.text(5), toString(head.id));
    if (const auto accepted = one.maybeWhole(6)) out.accepted = Id{ItemKind::Setup, *accepted};
    Query passes(connection, "SELECT pass FROM fit_pass WHERE fit = ? ORDER BY place", head.row);
    while (passes.step())
        out.passes.push_back({ItemKind::Pass, passes.whole(0)});
    Query taken(connection,
                "SELECT i.kind, i.number, v.key FROM fit_value v JOIN item i ON i.id = v.item WHERE v.fit = ? ORDER BY "
                "v.item, v.key",
                head.row);
    while (taken.step())
        if (const auto kind = kindFromName(taken.text(0)))
            out.taken.push_back({{*kind, taken.whole(1)}, taken.text(2)});
    return out;
}

} // namespace

Fit fit(Connection& connection, Id id) {
    static_cast<void>(rowOf(connection, id, ItemKind::Fit));
    return fitFrom(connection, head(connection, id));
}

std::vector<Fit> fits(Connection& connection, const std::optional<Id>& setup, bool retired) {
    std::vector<Fit> out;
    for (const ItemHead& head : heads(connection, ItemKind::Fit, retired)) {
        Fit one = fitFrom(connection, head);
        if (!setup || one.setup == setup) out.push_back(std::move(one));
    }
    return out;
}

Id insertFit(Connection& connection, const Fit& fit) {
    allowFit(fit);
    ItemHead head{0, {ItemKind::Fit, 0}, fit.name, "", fit.notes, "", fit.retired, fit.created, "", 0};
    const Row row = insertHead(connection, head);
    const std::string parameters = parametersJson(fit.parameters);
    const std::string covariance = json(fit.covariance).dump();
    const std::string program = fit.program.empty() ? programName() : fit.program;
    const std::string gains = writeLearnedInput(fit.learned);
    Query(connection,
          "INSERT INTO fit (item, setup, parameters, covariance, report, program, gains) VALUES (?, ?, ?, ?, ?, ?, ?)",
          row, rowOf(connection, fit.setup, ItemKind::Setup), parameters, covariance, fit.report, program, gains)
        .run();
    for (std::size_t i = 0; i < fit.passes.size(); ++i) {
        if (fit.passes[i].kind != ItemKind::Pass) throw InputError("passes", toString(fit.passes[i]) + " is no pass");
        Query(connection, "INSERT INTO fit_pass (fit, place, pass) VALUES (?, ?, ?)", row, static_cast<int>(i),
              fit.passes[i].number)
            .run();
    }
    if (fit.accepted) putTaken(connection, head.id, *fit.accepted, fit.taken);
    return head.id;
}

Id addFit(Connection& connection, const Fit& fit) {
    Fit fresh = fit;
    fresh.accepted.reset();
    fresh.taken.clear();
    if (fit.setup) requireUncounted(connection, *fit.setup, fit.passes);
    return insertFit(connection, fresh);
}

void putTaken(Connection& connection, Id fit, Id accepted, const std::vector<FittedValue>& taken) {
    const Row row = rowOf(connection, fit, ItemKind::Fit);
    Query(connection, "UPDATE fit SET accepted = ? WHERE item = ?", rowOf(connection, accepted, ItemKind::Setup), row)
        .run();
    for (const FittedValue& value : taken) {
        allowName("key", value.key);
        Query(connection, "INSERT INTO fit_value (fit, item, key) VALUES (?, ?, ?)", row, rowOf(connection, value.item),
              value.key)
            .run();
    }
}

void updateFit(Connection& connection, const Fit& fit) {
    allowName("name", fit.name);
    allowText("notes", fit.notes, longestNotes);
    static_cast<void>(rowOf(connection, fit.id, ItemKind::Fit));
    updateHead(connection, {0, fit.id, fit.name, "", fit.notes, "", false, "", "", fit.version});
}

} // namespace rw::store
