// The plan's result as JSON. Numbers are printed so that they read back to the same double; what is not finite becomes
// null.
#include "core/plan/plan.h"

#include "core/json/json_write.h"
#include "core/plan/plan_figures.h"
#include "core/units.h"

namespace rw {

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

std::string planResultJson(const PlanInput& input, const PlanResult& result) {
    Json out;
    out["air_density_kgpm3"] = result.airDensity;
    out["density_altitude_m"] = result.densityAltitude;
    out["overall_ratio"] = result.overallRatio;
    out["rollout_m"] = result.rollout;
    out["steady_top_speed_mps"] = jsonOrNull(result.steadyTopSpeed);
    out["lift_off_speed_mps"] = jsonOrNull(result.liftOffSpeed);
    out["passes"] = listJson(result.passes, [&](const PassResult& pass) { return passJson(input, pass); });
    out["reverse"] = {{"zone_mean_mps", jsonOrNull(result.reverse.zoneMean)},
                      {"peak_speed_mps", result.reverse.peakSpeed},
                      {"stop_at_m", result.reverse.stopAt}};
    out["both_ways_mean_mps"] = jsonOrNull(result.bothWaysMean);
    out["margins"] = listJson(result.margins, [](const Margin& m) {
        return Json{{"limit", m.limit}, {"value", m.value}, {"allowed", m.allowed}, {"margin", m.margin}};
    });
    out["passes_until_limit"] = result.passesUntilLimit;
    out["shortest_wait_s"] = jsonOrNull(result.shortestWait_s);
    return out.dump(2) + "\n";
}

} // namespace rw
