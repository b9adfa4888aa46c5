#include "core/plan/reach_binding.h"

#include "core/error.h"
#include "core/plan/scan.h"

#include <algorithm>
#include <array>
#include <limits>
#include <utility>

namespace rw {

namespace {

constexpr double noValue = -std::numeric_limits<double>::infinity();
constexpr double endlessGrip = 100.0;
constexpr double longerRunUp = 3.0;  // times as long
constexpr double worthNaming = 1e-3; // of the best zone mean

struct Obstacle {
    std::string_view name;
    double BoundTimes::*time;
    void (*remove)(PassSetup&);
};

constexpr std::array obstacles{
    Obstacle{"motor_current", &BoundTimes::motorCurrent, [](PassSetup& s) { s.controller.motorCurrentLimit.reset(); }},
    Obstacle{"pack_current", &BoundTimes::packCurrent, [](PassSetup& s) { s.controller.packCurrentLimit.reset(); }},
    Obstacle{"traction", &BoundTimes::traction, [](PassSetup& s) { s.strip.friction = endlessGrip; }},
    Obstacle{"cutoff", &BoundTimes::cutoff, [](PassSetup& s) { s.controller.cutoff = CutoffMode::Off; }},
};

double best(const ReachVariable& variable, const WorkOptions& options, const std::function<double(PassSetup)>& speed) {
    std::vector<double> speeds(variable.coarse.size(), noValue);
    parallelFor(speeds.size(), quiet(options),
                [&](std::size_t i) { speeds[i] = speed(variable.setupAt(variable.coarse[i])); });
    return *std::ranges::max_element(speeds);
}

} // namespace

double ReachVariable::zoneMean(const PassSetup& setup, const PassPrecision& precision) const {
    // Far from the plan's own value a pass may not be computable: nothing is reached there.
    try {
        return simulatePass(setup, start, {precision}).zoneMean.value_or(noValue);
    } catch (const InputError&) {
        return noValue;
    }
}

ReachVariable gearingOf(const PlanInput& input) {
    return {startState(input), logSpaced(lowestRatio, highestRatio, 60),
            [setup = convertedSetup(input)](double ratio) { return gearedTo(setup, ratio); }};
}

std::string_view whatBinds(const ReachVariable& variable, double bestValue, const WorkOptions& options) {
    const PassResult pass = simulatePass(variable.setupAt(bestValue), variable.start);
    const double now = pass.zoneMean.value_or(0.0);
    std::string_view name = "power";
    double most = now * (1.0 + worthNaming);
    const auto offer = [&](std::string_view candidate, double speed) {
        if (speed > most) most = speed, name = candidate;
    };
    for (const Obstacle& obstacle : obstacles) {
        if (pass.bound.*obstacle.time <= 0.0) continue;
        offer(obstacle.name, best(variable, options, [&](PassSetup setup) {
                  obstacle.remove(setup);
                  return variable.zoneMean(setup, sketchPrecision);
              }));
    }
    offer("run_up", best(variable, options, [&](PassSetup setup) {
              setup.strip.runUp *= longerRunUp;
              return variable.zoneMean(setup, sketchPrecision);
          }));
    return name;
}

std::string_view bindingText(std::string_view binding) {
    if (binding == "motor_current") return "the motor current limit stands in the way";
    if (binding == "pack_current") return "the pack current limit stands in the way";
    if (binding == "traction") return "traction stands in the way";
    if (binding == "cutoff") return "the low-voltage cutoff stands in the way";
    if (binding == "run_up") return "the run-up is too short";
    return "motor and pack have no more power for this drag";
}

} // namespace rw
