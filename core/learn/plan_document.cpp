#include "core/learn/plan_document.h"

#include "core/plan/pass_json.h"
#include "core/plan/plan_json.h"

namespace rw {

using Json = nlohmann::ordered_json;

namespace {

Json estimateJson(const Estimate& estimate) {
    return {{"value", estimate.value}, {"uncertainty", estimate.uncertainty}};
}

// "motor.kv_rpm_per_V" into the object "motor".
void setValue(Json& root, const std::string& key, double value) {
    Json* place = &root;
    std::size_t from = 0;
    for (std::size_t dot = key.find('.'); dot != std::string::npos; dot = key.find('.', from)) {
        place = &(*place)[key.substr(from, dot - from)];
        from = dot + 1;
    }
    (*place)[key.substr(from)] = value;
}

} // namespace

std::string learnedDocument(std::string_view document, const PlanInput& plan, const LearnReport& report) {
    constexpr std::string_view mark = "\xEF\xBB\xBF"; // UTF-8's byte order mark
    if (document.starts_with(mark)) document.remove_prefix(mark.size());
    Json root = Json::parse(document, nullptr, false);
    if (root.is_discarded()) return writePlanInput(plan);
    for (const LearnedParameter& parameter : report.parameters) {
        setValue(root, parameter.key, parameter.value);
        root["uncertainty"][parameter.key] = parameter.standardError;
    }
    Json pairs = Json::array();
    for (const KeyCorrelation& pair : plan.correlation)
        pairs.push_back({pair.first, pair.second, pair.coefficient});
    if (!pairs.empty() || root.contains("correlation")) root["correlation"] = std::move(pairs);
    if (plan.learned)
        root["learned"] = {{"gains",
                            {{"current", estimateJson(plan.learned->currentGain)},
                             {"voltage", estimateJson(plan.learned->voltageGain)},
                             {"current_zero_A", estimateJson(plan.learned->currentZero_A)}}},
                           {"logs", plan.learned->logs}};
    return root.dump(2) + "\n";
}

} // namespace rw
