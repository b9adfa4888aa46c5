#include "core/choose/choose_power.h"
#include "core/plan/pass_json.h"

namespace rw {

std::string chooseJson(const ChooseSet& set, const ChooseResult& result) {
    using Json = nlohmann::ordered_json;
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

} // namespace rw
