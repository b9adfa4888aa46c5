#include "storage/evidence.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "storage/allowed.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace rw {

namespace {

using nlohmann::json;

json estimateJson(const Estimate& estimate) {
    return {{"value", estimate.value}, {"uncertainty", estimate.uncertainty}};
}

json learnedJson(const LearnedInput& learned) {
    return {{"gains",
             {{"current", estimateJson(learned.currentGain)},
              {"voltage", estimateJson(learned.voltageGain)},
              {"current_zero_A", estimateJson(learned.currentZero_A)}}},
            {"logs", learned.logs}};
}

double numberIn(const JsonValue& object, const char* name, const std::string& place) {
    const JsonValue* const found = object.find(name);
    if (found == nullptr || found->type != JsonValue::Type::Number)
        throw InputError(place, std::string("expected a number '") + name + "'");
    return found->number;
}

Estimate estimateIn(const JsonValue& gains, const char* name, const std::string& place) {
    const JsonValue* const found = gains.find(name);
    if (found == nullptr) throw InputError(place, std::string("expected a gain '") + name + "'");
    return {numberIn(*found, "value", place), numberIn(*found, "uncertainty", place)};
}

LearnedInput learnedIn(const JsonValue& document, const std::string& place) {
    LearnedInput out;
    const JsonValue* const gains = document.find("gains");
    const JsonValue* const logs = document.find("logs");
    if (gains == nullptr || logs == nullptr) throw InputError(place, "expected gains and logs");
    out.currentGain = estimateIn(*gains, "current", place);
    out.voltageGain = estimateIn(*gains, "voltage", place);
    out.currentZero_A = estimateIn(*gains, "current_zero_A", place);
    for (const JsonValue& log : logs->items)
        out.logs.push_back(log.text);
    return out;
}

bool same(const Values& was, const Values& is, const std::string& key) {
    const Value *const a = valueOf(was, key), *const b = valueOf(is, key);
    return a != nullptr && b != nullptr && a->number == b->number && a->uncertainty == b->uncertainty;
}

constexpr std::array carriedKinds{ItemKind::Vehicle, ItemKind::Tyre, ItemKind::Motor, ItemKind::Controller,
                                  ItemKind::Pack};

// Nothing else was said of the key since the fit began.
bool asBefore(const PlanInput& plan, const PlanField& field, const FittedParameter& parameter) {
    const auto deviation = plan.uncertainty.find(parameter.key);
    return field.get(plan) == parameter.before && deviation != plan.uncertainty.end() &&
           deviation->second == parameter.beforeDeviation;
}

} // namespace

std::string writeLearnedInput(const std::optional<LearnedInput>& learned) {
    return learned ? learnedJson(*learned).dump() : std::string();
}

std::optional<LearnedInput> readLearnedInput(const std::string& text, const std::string& place) {
    if (text.empty()) return std::nullopt;
    return learnedIn(parseJson({text, place}), place);
}

std::string writeEvidence(const Evidence& evidence) {
    if (evidence.empty()) return {};
    json out = json::object();
    json& pairs = out["correlation"] = json::array();
    for (const KeyCorrelation& pair : evidence.correlation)
        pairs.push_back({pair.first, pair.second, pair.coefficient});
    if (evidence.learned) out["learned"] = learnedJson(*evidence.learned);
    return out.dump();
}

Evidence readEvidence(const std::string& text, const std::string& place) {
    Evidence out;
    if (text.empty()) return out;
    const JsonValue document = parseJson({text, place});
    if (const JsonValue* const pairs = document.find("correlation"))
        for (const JsonValue& pair : pairs->items) {
            if (pair.items.size() != 3 || pair.items[2].type != JsonValue::Type::Number)
                throw InputError(place, "expected two keys and a number");
            out.correlation.push_back({pair.items[0].text, pair.items[1].text, pair.items[2].number});
        }
    if (const JsonValue* const learned = document.find("learned")) out.learned = learnedIn(*learned, place);
    return out;
}

Evidence stillHeld(Evidence evidence, const Values& was, const Values& is) {
    std::erase_if(evidence.correlation, [&](const KeyCorrelation& pair) {
        return !same(was, is, pair.first) || !same(was, is, pair.second);
    });
    return evidence;
}

void allowEvidence(const Evidence& evidence) {
    allowCount("correlation", evidence.correlation.size());
    for (const KeyCorrelation& pair : evidence.correlation) {
        allowName("correlation", pair.first);
        allowName("correlation", pair.second);
        if (!(std::abs(pair.coefficient) < 1.0)) throw InputError("correlation", "expected between -1 and 1");
    }
    if (!evidence.learned) return;
    const LearnedInput& learned = *evidence.learned;
    for (const Estimate& gain : {learned.currentGain, learned.voltageGain, learned.currentZero_A}) {
        allowNumber("gain", gain.value);
        allowNumber("gain", gain.uncertainty);
    }
    allowCount("logs", learned.logs.size());
    for (const std::string& log : learned.logs)
        allowText("log", log, longestName);
}

bool carriedByFits(const std::string& key) {
    return std::ranges::any_of(carriedKinds, [&key](ItemKind kind) { return keyBelongsTo(kind, key); });
}

// The fit's correlations; those of before stay where the fit says nothing of their keys.
Evidence evidenceOf(const Fit& fit, Evidence before) {
    std::set<std::string, std::less<>> keys;
    for (const FittedParameter& parameter : fit.parameters)
        keys.insert(parameter.key);
    std::erase_if(before.correlation, [&keys](const KeyCorrelation& pair) {
        return keys.contains(pair.first) || keys.contains(pair.second);
    });
    const std::size_t n = fit.parameters.size();
    const auto covariance = [&](std::size_t i, std::size_t k) { return fit.covariance[i * n + k]; };
    for (std::size_t i = 0; !fit.covariance.empty() && i < n; ++i)
        for (std::size_t k = i + 1; k < n; ++k) {
            const double scale = std::sqrt(covariance(i, i) * covariance(k, k));
            const double r = scale > 0.0 ? covariance(i, k) / scale : 0.0;
            const bool both = carriedByFits(fit.parameters[i].key) && carriedByFits(fit.parameters[k].key);
            if (both && r != 0.0 && std::abs(r) < 1.0)
                before.correlation.push_back({fit.parameters[i].key, fit.parameters[k].key, r});
        }
    if (fit.learned) {
        const std::vector<std::string> earlier = before.learned ? before.learned->logs : std::vector<std::string>{};
        before.learned = fit.learned;
        for (const std::string& log : earlier)
            if (std::ranges::find(before.learned->logs, log) == before.learned->logs.end())
                before.learned->logs.push_back(log);
    }
    return before;
}

std::optional<PlanInput> learnedFrom(const Fit& fit, PlanInput plan) {
    bool any = false;
    for (const FittedParameter& parameter : fit.parameters) {
        const PlanField* const field = findPlanField(parameter.key);
        const bool usable = field != nullptr && field->get && field->set && parameter.standardError;
        if (!usable || !carriedByFits(parameter.key)) continue;
        if (!asBefore(plan, *field, parameter)) return {};
        field->set(plan, parameter.value);
        plan.uncertainty[parameter.key] = *parameter.standardError;
        any = any || parameter.determined;
    }
    if (!any) return {};
    Evidence evidence = evidenceOf(fit, {std::move(plan.correlation), std::move(plan.learned)});
    plan.correlation = std::move(evidence.correlation);
    plan.learned = evidence.learned ? std::move(evidence.learned) : LearnedInput{};
    try {
        checkPlanInput(plan, "fit");
    } catch (const InputError&) {
        return {};
    }
    return plan;
}

} // namespace rw
