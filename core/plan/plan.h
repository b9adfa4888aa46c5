// A plan: passes there and back, repeats and waits, margins. core/physics/README.md 9–11, app/batch/README.md
// "Results".
#pragma once

#include "core/pass/pass.h"
#include "core/plan/plan_input.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// Throws InputError if the input is not valid (see checkPlanInput).
[[nodiscard]] PassSetup passSetup(const PlanInput& input);
// The same of an input that is known to be valid, and its parts.
[[nodiscard]] PassSetup convertedSetup(const PlanInput& input);
[[nodiscard]] StartState startState(const PlanInput& input);
[[nodiscard]] Tyre tyreOf(const PlanInput& input);
[[nodiscard]] double fittedRatio(const PlanInput& input); // overall

struct Margin {
    std::string_view limit;            // "case_comfort", …: core/physics/README.md 11
    double value = 0.0, allowed = 0.0; // in the limit's own unit (°C, A, V per cell, m, rpm, rad/s, share)
    double margin = 0.0;               // share of what is allowed that is left; negative: broken
};

struct ReversePass {
    std::optional<double> zoneMean;
    double peakSpeed = 0.0, stopAt = 0.0;
};

struct PlanResult {
    double airDensity = 0.0, densityAltitude = 0.0, overallRatio = 0.0, rollout = 0.0;
    std::optional<double> steadyTopSpeed, liftOffSpeed;
    std::vector<PassResult> passes;
    ReversePass reverse;
    std::optional<double> bothWaysMean;
    std::vector<Margin> margins; // tightest first
    int passesUntilLimit = 0;
    std::optional<int> shortestWait_s;
};

[[nodiscard]] PlanResult simulatePlan(const PlanInput& input);
// The plan's passes one after the other, without reverse, steady speed and waits.
[[nodiscard]] std::vector<PassResult> simulatePasses(const PlanInput& input, const PassSetup& setup,
                                                     const PassPrecision& precision = fullPrecision);
// Margins of given passes, the worst of all of them, tightest first.
[[nodiscard]] std::vector<Margin> margins(const PlanInput& input, const std::vector<PassResult>& passes);
// The plan's result as the JSON object that app/batch/README.md describes.
[[nodiscard]] std::string planResultJson(const PlanInput& input, const PlanResult& result);

} // namespace rw
