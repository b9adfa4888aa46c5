#include "core/choose/size.h"
#include "core/plan/pass_json.h"
#include "core/plan/plan_json.h"

namespace rw {

namespace {

using Json = nlohmann::ordered_json;

template<class Get>
Json matrix(const SizeMap& size, Get get) {
    Json rows = Json::array();
    for (const auto& line : size.map) {
        Json row = Json::array();
        for (const auto& cell : line)
            row.push_back(cell ? Json(get(*cell)) : Json(nullptr));
        rows.push_back(std::move(row));
    }
    return rows;
}

Json makesTarget(const SizeMap& size) {
    Json rows = Json::array();
    for (const auto& line : size.map) {
        Json row = Json::array();
        for (const auto& cell : line)
            row.push_back(cell.has_value());
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

std::string sizeJson(const SizeMap& size) {
    Json out;
    out["cells"] = size.cells;
    out["kv"] = size.kv;
    out["makes_target"] = makesTarget(size);
    out["tightest_margin"] = matrix(size, [](const SizeCell& cell) { return cell.margin; });
    out["limit"] = matrix(size, [](const SizeCell& cell) { return cell.limit; });
    out["overall_ratio"] = matrix(size, [](const SizeCell& cell) { return cell.overallRatio; });
    out["peak_pack_A"] = matrix(size, [](const SizeCell& cell) { return cell.peakPackCurrent; });
    out["case_soak_peak_C"] = matrix(size, [](const SizeCell& cell) { return cell.caseSoakPeak; });
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
