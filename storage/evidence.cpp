#include "storage/evidence.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "storage/allowed.h"

#include <nlohmann/json.hpp>

#include <cmath>

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

LearnedInput learnedFrom(const JsonValue& document, const std::string& place) {
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

} // namespace

std::string writeLearnedInput(const std::optional<LearnedInput>& learned) {
    return learned ? learnedJson(*learned).dump() : std::string();
}

std::optional<LearnedInput> readLearnedInput(const std::string& text, const std::string& place) {
    if (text.empty()) return std::nullopt;
    return learnedFrom(parseJson({text, place}), place);
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
    if (const JsonValue* const learned = document.find("learned")) out.learned = learnedFrom(*learned, place);
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

} // namespace rw
