#include "core/plan/plan.h"

#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/plan/repeats.h"

#include <string>

namespace rw {

namespace {

constexpr int mostPasses = 20;      // passes_until_limit counts no further
constexpr int longestWait_s = 3600; // shortest_wait_s looks no further

bool withinLimits(const PlanInput& input, const PassResult& pass) { return !whatEndsTheDay(input, pass); }

int passesUntilLimit(const PlanInput& input, const PassSetup& setup, const std::vector<PassResult>& known) {
    std::optional<PassResult> pass = known.front();
    int count = 0;
    while (pass && withinLimits(input, *pass)) {
        if (++count == mostPasses) break;
        const auto next = static_cast<std::size_t>(count);
        pass = next < known.size() ? known[next] : nextPassIfAny(setup, *pass, input.drive.turn_around_s);
    }
    return count;
}

std::optional<int> shortestWait(const PlanInput& input, const PassSetup& setup, const PassResult& first) {
    const auto enough = [&](int wait_s) {
        const auto second = nextPassIfAny(setup, first, wait_s);
        return second && withinLimits(input, *second);
    };
    if (enough(0)) return 0;
    if (!enough(longestWait_s)) return std::nullopt;
    int tooShort = 0, wait = longestWait_s;
    while (wait - tooShort > 1) {
        const int middle = (wait + tooShort) / 2;
        (enough(middle) ? wait : tooShort) = middle;
    }
    return wait;
}

} // namespace

std::vector<PassResult> simulatePasses(const PlanInput& input, const PassSetup& setup, const PassPrecision& precision) {
    std::vector<PassResult> passes{simulatePass(setup, startState(input), {precision})};
    while (static_cast<int>(passes.size()) < input.drive.passes) {
        try {
            const StartState after = standFor(setup, passes.back().end, input.drive.turn_around_s);
            passes.push_back(simulatePass(setup, after, {precision}));
        } catch (const InputError& error) {
            throw InputError("pass " + std::to_string(passes.size() + 1), error.message());
        }
    }
    return passes;
}

PlanResult simulatePlan(const PlanInput& input) {
    const PassSetup setup = passSetup(input);
    const StartState start = startState(input);
    PlanResult out;
    out.airDensity = setup.strip.airDensity;
    out.densityAltitude = densityAltitude(setup.strip.airDensity);
    out.overallRatio = setup.gearing.ratio;
    out.rollout = rollout(setup.tyre.radius, setup.gearing.ratio);
    out.steadyTopSpeed = steadyTopSpeed(setup, start);
    out.liftOffSpeed = liftOffSpeed(setup);
    out.passes = simulatePasses(input, setup);

    const PassResult back = simulatePass(reversed(setup), start);
    out.reverse = {back.zoneMean, back.peakSpeed, back.stopAt};
    const auto& mean = out.passes.front().zoneMean;
    if (mean && back.zoneMean) out.bothWaysMean = (*mean + *back.zoneMean) / 2.0;

    out.margins = margins(input, out.passes);
    out.passesUntilLimit = passesUntilLimit(input, setup, out.passes);
    out.shortestWait_s = shortestWait(input, setup, out.passes.front());
    return out;
}

} // namespace rw
