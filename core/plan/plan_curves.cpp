#include "core/plan/plan_curves.h"

#include "core/plan/plan_fields.h"

#include <algorithm>

namespace rw {

namespace {

constexpr double traceRate = 60.0; // instants a second: finer than a pixel on a strip of four seconds
constexpr int forcePoints = 90;

PassCurve tracePass(const PassSetup& setup, const StartState& start) {
    PassCurve curve;
    PassOptions options;
    options.traceRate = traceRate;
    (void)simulatePass(setup, start, options, [&curve](const Instant& now) {
        curve.time.push_back(now.time);
        curve.distance.push_back(now.distance);
        curve.speed.push_back(now.speed);
        curve.packCurrent.push_back(now.packCurrent);
        curve.motorCurrent.push_back(now.motorCurrent);
        curve.packVoltage.push_back(now.packVoltage);
        curve.motorCase.push_back(now.motorCase);
        curve.winding.push_back(now.winding);
        curve.force.push_back(now.tyreForce);
        curve.limit.push_back(now.limit);
        curve.phase.push_back(now.phase);
    });
    return curve;
}

// The next smaller and larger pinion at hand, else one tooth either way.
std::vector<int> neighbours(const PlanInput::GearsInput& gears) {
    std::vector<int> teeth = gears.pinions;
    std::ranges::sort(teeth);
    const auto below = std::ranges::lower_bound(teeth, gears.pinion_teeth);
    const auto above = std::ranges::upper_bound(teeth, gears.pinion_teeth);
    return {below != teeth.begin() ? *std::prev(below) : gears.pinion_teeth - 1,
            above != teeth.end() ? *above : gears.pinion_teeth + 1};
}

GearingForce forcesOf(PlanInput input, int pinion, const StartState& start, const std::vector<double>& speeds) {
    input.gears.pinion_teeth = pinion;
    GearingForce forces{pinion, input.gears.spur_teeth, {}};
    const PassSetup setup = convertedSetup(input);
    for (const double speed : speeds)
        forces.drive.push_back(forceBalance(setup, start, speed).drive);
    return forces;
}

ForceCurves forceCurves(const PlanInput& input, const PassSetup& setup, const StartState& start,
                        const PlanResult& result) {
    ForceCurves curves;
    const double peak = result.passes.empty() ? 0.0 : result.passes.front().peakSpeed;
    const double top = std::max({1.25 * result.steadyTopSpeed.value_or(0.0), 1.25 * peak, 5.0});
    for (int i = 0; i <= forcePoints; ++i) {
        const double speed = top * i / forcePoints;
        const ForceBalance balance = forceBalance(setup, start, speed);
        curves.speed.push_back(speed);
        curves.resistance.push_back(balance.resistance);
        curves.traction.push_back(balance.tractionLimit);
    }
    curves.gearings.push_back(forcesOf(input, input.gears.pinion_teeth, start, curves.speed));
    for (const int pinion : neighbours(input.gears))
        if (const PlanField* field = findPlanField("gears.pinion_teeth"); pinion >= field->low && pinion <= field->high)
            curves.gearings.push_back(forcesOf(input, pinion, start, curves.speed));
    curves.crossing = result.steadyTopSpeed;
    if (curves.crossing) curves.crossingForce = forceBalance(setup, start, *curves.crossing).resistance;
    return curves;
}

} // namespace

PlanOutcome planOutcome(const PlanInput& input) {
    PlanOutcome outcome;
    outcome.input = input;
    outcome.result = simulatePlan(input); // refuses an invalid one, once for all that follows
    const PassSetup setup = convertedSetup(input);
    const StartState start = startState(input);
    outcome.curve = tracePass(setup, start);
    outcome.forces = forceCurves(input, setup, start, outcome.result);
    outcome.marks = stripMarks(input, outcome.result);
    return outcome;
}

std::optional<double> curveAt(const PassCurve& curve, const std::vector<double>& column, double distance) {
    if (curve.size() < 2 || distance < curve.distance.front() || distance > curve.distance.back()) return std::nullopt;
    const auto after = std::ranges::upper_bound(curve.distance, distance);
    if (after == curve.distance.end()) return column.back();
    const auto i = static_cast<std::size_t>(after - curve.distance.begin());
    if (i == 0) return column.front();
    const double share = (distance - curve.distance[i - 1]) / (curve.distance[i] - curve.distance[i - 1]);
    return column[i - 1] + share * (column[i] - column[i - 1]);
}

std::optional<double> distanceOfSpeed(const PassCurve& curve, double speed) {
    for (std::size_t i = 1; i < curve.size(); ++i) {
        if (curve.speed[i] < speed) continue;
        const double rise = curve.speed[i] - curve.speed[i - 1];
        const double share = rise > 0.0 ? std::clamp((speed - curve.speed[i - 1]) / rise, 0.0, 1.0) : 0.0;
        return curve.distance[i - 1] + share * (curve.distance[i] - curve.distance[i - 1]);
    }
    return std::nullopt;
}

} // namespace rw
