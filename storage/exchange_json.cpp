// Values as members of the exchange document.
#include "storage/evidence.h"
#include "storage/exchange.h"
#include "storage/log_store.h"
#include "storage/or_null.h"

#include <nlohmann/json.hpp>

namespace rw::store {

namespace {

using Json = nlohmann::ordered_json;

Json valuesJson(const Values& values) {
    Json out = Json::object();
    for (const auto& [key, value] : values)
        out[key] = {{"number", orNull(value.number)},
                    {"text", value.text},
                    {"unit", value.unitShown},
                    {"uncertainty", orNull(value.uncertainty)},
                    {"source", sourceName(value.source)},
                    {"note", value.note}};
    return out;
}

template<class Thing>
Json headJson(const Thing& thing) {
    return {{"id", toString(thing.id)}, {"kind", kindName(thing.id.kind)}, {"name", thing.name},
            {"notes", thing.notes},     {"retired", thing.retired},        {"created", thing.created}};
}

} // namespace

Json exchangeJson(const FittedParameter& p) {
    Json out{{"key", p.key},
             {"value", p.value},
             {"standard_error", orNull(p.standardError)},
             {"determined", p.determined},
             {"why_not", p.whyNot}};
    if (p.low) out["low"] = *p.low;
    if (p.high) out["high"] = *p.high;
    if (p.before) out["before"] = *p.before;
    if (p.beforeDeviation) out["before_deviation"] = *p.beforeDeviation;
    if (!p.conflict.empty()) out["conflict"] = p.conflict;
    return out;
}

Json exchangeJson(const Part& part) {
    Json out = headJson(part);
    out["description"] = part.description;
    out["document"] = part.document;
    out["values"] = valuesJson(part.values);
    return out;
}

Json exchangeJson(const Setup& setup) {
    Json out = headJson(setup);
    out["revision"] = setup.revision;
    out["first"] = setup.first == setup.id ? Json() : Json(toString(setup.first));
    out["parent"] = orNull(setup.parent);
    out["reason"] = setup.reason;
    out["vehicle"] = toString(setup.vehicle);
    out["motor"] = toString(setup.motor);
    out["controller"] = toString(setup.controller);
    out["pack"] = toString(setup.pack);
    out["tyre"] = toString(setup.tyre);
    out["pinion"] = toString(setup.pinion);
    out["spur"] = toString(setup.spur);
    out["values"] = valuesJson(setup.values);
    if (!setup.evidence.empty()) out["learned"] = writeEvidence(setup.evidence);
    return out;
}

Json exchangeJson(const Outing& outing) {
    Json out = headJson(outing);
    out["date"] = outing.date;
    out["venue"] = orNull(outing.venue);
    out["setups"] = Json::array();
    for (const Id setup : outing.setups)
        out["setups"].push_back(toString(setup));
    out["photos"] = outing.photos;
    out["values"] = valuesJson(outing.weather);
    return out;
}

Json exchangeJson(const StoredPlan& plan) {
    Json out = headJson(plan);
    out["setup"] = orNull(plan.setup);
    out["venue"] = orNull(plan.venue);
    out["input"] = plan.input;
    out["result"] = plan.result;
    out["settings"] = plan.settings;
    out["program"] = plan.program;
    return out;
}

Json exchangeJson(const Fit& fit, const std::vector<std::pair<Id, int>>& passes) {
    Json out = headJson(fit);
    out["setup"] = orNull(fit.setup);
    out["passes"] = Json::array();
    for (const auto& [log, index] : passes)
        out["passes"].push_back({{"log", toString(log)}, {"index", index}});
    out["parameters"] = Json::array();
    for (const FittedParameter& p : fit.parameters)
        out["parameters"].push_back(exchangeJson(p));
    out["covariance"] = fit.covariance;
    out["report"] = fit.report;
    out["program"] = fit.program;
    if (fit.learned) out["learned"] = writeLearnedInput(fit.learned);
    if (!fit.accepted) return out;
    out["accepted"] = toString(*fit.accepted);
    for (const FittedValue& value : fit.taken)
        out["taken"].push_back({{"item", toString(value.item)}, {"key", value.key}});
    return out;
}

std::vector<std::pair<Id, int>> placesOf(Connection& connection, const std::vector<Id>& passes) {
    std::vector<std::pair<Id, int>> out;
    for (const Id id : passes) {
        const StoredPass one = pass(connection, id);
        out.emplace_back(one.log, one.index);
    }
    return out;
}

} // namespace rw::store
