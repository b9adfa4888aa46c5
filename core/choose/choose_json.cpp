// What choosing, the ladder and the size map say as JSON.
#include "core/choose/choose_power.h"

#include "core/choose/ladder.h"
#include "core/choose/size.h"
#include "core/json/json_write.h"
#include "core/plan/plan_json.h"

namespace rw {

std::string chooseJson(const ChooseSet& set, const ChooseResult& result) {
    Json out;
    out["rows"] = listJson(result.rows, [&](const ChooseRow& row) {
        return Json{{"motor", set.motors[row.motor].id},
                    {"controller", set.controllers[row.controller].id},
                    {"pack", set.packs[row.pack].id},
                    {"pinion", row.pinion},
                    {"spur", row.spur},
                    {"zone_mean_mps", jsonOrNull(row.zoneMean)},
                    {"peak_pack_A", row.peakPackCurrent},
                    {"case_soak_peak_C", row.caseSoakPeak},
                    {"stop_at_m", row.stopAt},
                    {"tightest", {{"limit", row.tightest.limit}, {"margin", row.tightest.margin}}},
                    {"within_limits", row.withinLimits},
                    {"makes_target", row.makesTarget},
                    {"target_probability", jsonOrNull(row.targetProbability)},
                    {"limit_probability", jsonOrNull(row.limitProbability)},
                    {"mass_kg", row.plan.vehicle.mass_kg},
                    {"notes", row.notes}};
    });
    out["efficient"] = result.efficient;
    const auto id = [](const std::string& word) { return word.empty() ? Json(nullptr) : Json(word); };
    out["left_out"] = listJson(result.leftOut, [&](const ChooseLeftOut& one) {
        return Json{
            {"motor", id(one.motor)}, {"controller", id(one.controller)}, {"pack", id(one.pack)}, {"why", one.why}};
    });
    return out.dump(2) + "\n";
}

namespace {

Json conditionsJson(const std::vector<LadderCondition>& conditions, bool stops) {
    return listJson(conditions, [stops](const LadderCondition& condition) {
        // Going on asks for at most (least) this; stopping is for at least (most) that.
        Json item{{"figure", condition.figure}, {condition.atMost ? "at_most" : "at_least", condition.value}};
        if (stops) item["why"] = condition.why;
        return item;
    });
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
        out["expect"][std::string(figure.figure)] = {figure.p05, figure.mean, figure.p95};
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
    return listJson(size.map, [&](const auto& line) { return listJson(line, get); });
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
    out["steps"] = listJson(ladder.steps, stepJson);
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
