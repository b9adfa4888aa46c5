#include "core/choose/ladder.h"
#include "core/plan/pass_json.h"
#include "core/plan/plan_json.h"

namespace rw {

namespace {

using Json = nlohmann::ordered_json;

Json conditionsJson(const std::vector<LadderCondition>& conditions, bool stops) {
    Json out = Json::array();
    for (const LadderCondition& condition : conditions) {
        // Going on asks for at most (least) this; stopping is for at least (most) that.
        Json item{{"figure", condition.figure}, {condition.atMost ? "at_most" : "at_least", condition.value}};
        if (stops) item["why"] = condition.why;
        out.push_back(std::move(item));
    }
    return out;
}

Json stepJson(const LadderStep& step) {
    Json out;
    out["speed_mps"] = step.speed;
    out["change"] = step.change;
    out["set"] = Json::object();
    for (const LadderSetting& setting : step.set)
        out["set"][setting.key] = setting.value;
    out["plan"] = Json::parse(writePlanInput(step.plan));
    out["expect"] = Json::object();
    for (const LadderFigure& figure : step.expect)
        out["expect"][std::string(figure.figure)] = {jsonOrNull(figure.p05), jsonOrNull(figure.mean),
                                                     jsonOrNull(figure.p95)};
    out["go_on_if"] = conditionsJson(step.goOnIf, false);
    out["stop_if"] = conditionsJson(step.stopIf, true);
    out["wait_s"] = jsonOrNull(step.wait_s);
    out["target_probability"] = step.targetProbability;
    out["limit_probability"] = step.limitProbability;
    out["risky"] = step.risky();
    return out;
}

} // namespace

std::string ladderJson(const Ladder& ladder) {
    Json out;
    out["steps"] = Json::array();
    for (const LadderStep& step : ladder.steps)
        out["steps"].push_back(stepJson(step));
    out["blocked"] = nullptr;
    if (ladder.blocked)
        out["blocked"] = {
            {"speed_mps", ladder.blocked->speed}, {"limit", ladder.blocked->limit}, {"margin", ladder.blocked->margin}};
    return out.dump(2) + "\n";
}

} // namespace rw
