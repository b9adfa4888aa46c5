// What choosing, the ladder and the size map say as JSON.
#include "core/choose/choose_power.h"

#include "core/choose/ladder.h"
#include "core/choose/size.h"
#include "core/plan/pass_json.h"
#include "core/plan/plan_json.h"

namespace rw {

using Json = nlohmann::ordered_json;

std::string chooseJson(const ChooseSet& set, const ChooseResult& result) {
    Json out;
    out["rows"] = Json::array();
    for (const ChooseRow& row : result.rows) {
        Json item;
        item["motor"] = set.motors[row.motor].id;
        item["controller"] = set.controllers[row.controller].id;
        item["pack"] = set.packs[row.pack].id;
        item["pinion"] = row.pinion;
        item["spur"] = row.spur;
        item["zone_mean_mps"] = jsonOrNull(row.zoneMean);
        item["peak_pack_A"] = row.peakPackCurrent;
        item["case_soak_peak_C"] = row.caseSoakPeak;
        item["stop_at_m"] = row.stopAt;
        item["tightest"] = {{"limit", row.tightest.limit}, {"margin", row.tightest.margin}};
        item["within_limits"] = row.withinLimits;
        item["makes_target"] = row.makesTarget;
        item["target_probability"] = jsonOrNull(row.targetProbability);
        item["limit_probability"] = jsonOrNull(row.limitProbability);
        item["mass_kg"] = row.plan.vehicle.mass_kg;
        item["notes"] = row.notes;
        out["rows"].push_back(std::move(item));
    }
    out["efficient"] = result.efficient;
    out["left_out"] = Json::array();
    const auto id = [](const std::string& word) { return word.empty() ? Json(nullptr) : Json(word); };
    for (const ChooseLeftOut& one : result.leftOut)
        out["left_out"].push_back(
            {{"motor", id(one.motor)}, {"controller", id(one.controller)}, {"pack", id(one.pack)}, {"why", one.why}});
    return out.dump(2) + "\n";
}

namespace {

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

template<class Get>
Json matrix(const SizeMap& size, Get get) {
    Json rows = Json::array();
    for (const auto& line : size.map) {
        Json row = Json::array();
        for (const auto& cell : line)
            row.push_back(get(cell));
        rows.push_back(std::move(row));
    }
    return rows;
}

Json bestJson(const SizeBest& best) {
    return {{"cells", best.cells},
            {"kv", best.kv},
            {"overall_ratio", best.overallRatio},
            {"margin", best.tightest.margin},
            {"limit", best.tightest.limit},
            {"target_probability", jsonOrNull(best.targetProbability)},
            {"plan", Json::parse(writePlanInput(best.plan))}};
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

std::string sizeJson(const SizeMap& size) {
    Json out;
    out["cells"] = size.cells;
    out["kv"] = size.kv;
    const auto of = [](auto SizeCell::*member) {
        return [member](const std::optional<SizeCell>& cell) { return cell ? Json((*cell).*member) : Json(nullptr); };
    };
    out["makes_target"] = matrix(size, [](const std::optional<SizeCell>& cell) { return Json(cell.has_value()); });
    out["tightest_margin"] = matrix(size, of(&SizeCell::margin));
    out["limit"] = matrix(size, of(&SizeCell::limit));
    out["overall_ratio"] = matrix(size, of(&SizeCell::overallRatio));
    out["peak_pack_A"] = matrix(size, of(&SizeCell::peakPackCurrent));
    out["case_soak_peak_C"] = matrix(size, of(&SizeCell::caseSoakPeak));
    out["best"] = size.best ? bestJson(*size.best) : Json(nullptr);
    out["target_probability"] = size.best ? jsonOrNull(size.best->targetProbability) : Json(nullptr);
    out["nearest"] = nullptr;
    if (size.nearest)
        out["nearest"] = {{"cells", size.nearest->cells},
                          {"kv", size.nearest->kv},
                          {"overall_ratio", size.nearest->overallRatio},
                          {"zone_mean_mps", size.nearest->zoneMean},
                          {"binding", size.nearest->binding}};
    return out.dump(2) + "\n";
}

} // namespace rw
