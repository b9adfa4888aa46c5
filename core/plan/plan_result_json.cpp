// The plan's result as JSON. Numbers are printed so that they read back to the same double; what is not finite becomes
// null.
#include "core/plan/plan.h"

#include "core/plan/pass_json.h"
#include "core/plan/plan_figures.h"
#include "core/units.h"

namespace rw {

using Json = nlohmann::ordered_json;

namespace {

Json passJson(const PlanInput& input, const PassResult& pass) {
    Json out;
    out["completed"] = pass.completed;
    for (const PlanFigure& figure : planFigures()) {
        out[std::string(figure.key)] = jsonOrNull(figure.get(input, pass));
        if (figure.key == "min_front_load_ratio")
            out["bound_s"] = {{"motor_current", pass.bound.motorCurrent},
                              {"pack_current", pass.bound.packCurrent},
                              {"traction", pass.bound.traction},
                              {"cutoff", pass.bound.cutoff}};
    }
    return out;
}

} // namespace

Json marginsJson(const std::vector<Margin>& margins) {
    Json out = Json::array();
    for (const Margin& margin : margins)
        out.push_back(
            {{"limit", margin.limit}, {"value", margin.value}, {"allowed", margin.allowed}, {"margin", margin.margin}});
    return out;
}

std::string planResultJson(const PlanInput& input, const PlanResult& result) {
    Json out;
    out["air_density_kgpm3"] = result.airDensity;
    out["density_altitude_m"] = result.densityAltitude;
    out["overall_ratio"] = result.overallRatio;
    out["rollout_m"] = result.rollout;
    out["steady_top_speed_mps"] = jsonOrNull(result.steadyTopSpeed);
    out["lift_off_speed_mps"] = jsonOrNull(result.liftOffSpeed);
    out["passes"] = Json::array();
    for (const PassResult& pass : result.passes)
        out["passes"].push_back(passJson(input, pass));
    out["reverse"] = {{"zone_mean_mps", jsonOrNull(result.reverse.zoneMean)},
                      {"peak_speed_mps", result.reverse.peakSpeed},
                      {"stop_at_m", result.reverse.stopAt}};
    out["both_ways_mean_mps"] = jsonOrNull(result.bothWaysMean);
    out["margins"] = marginsJson(result.margins);
    out["passes_until_limit"] = result.passesUntilLimit;
    out["shortest_wait_s"] = result.shortestWait_s ? Json(*result.shortestWait_s) : Json(nullptr);
    return out.dump(2) + "\n";
}

} // namespace rw
