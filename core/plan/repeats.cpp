#include "core/plan/repeats.h"

#include "core/error.h"
#include "core/plan/limits.h"

#include <algorithm>

namespace rw {

namespace {

constexpr double traceRate = 10.0; // instants a second
constexpr int standingPoints = 30;
constexpr double lastSoak = 300.0; // s shown after the last pass
constexpr int mostPasses = 8;

void note(HeatHistory& history, double time, const StartState& state) {
    history.time.push_back(time);
    history.winding.push_back(state.winding);
    history.motorCase.push_back(state.motorCase);
    history.controller.push_back(state.controller);
    history.pack.push_back(state.pack);
}

// Denser at first: that is where the case still climbs.
StartState stand(HeatHistory& history, const PassSetup& setup, const StartState& from, double start, double seconds) {
    for (int i = 1; i <= standingPoints; ++i) {
        const double share = static_cast<double>(i) / standingPoints;
        const double after = seconds * share * share;
        note(history, start + after, standFor(setup, from, after));
    }
    return standFor(setup, from, seconds);
}

} // namespace

std::optional<std::string_view> whatEndsTheDay(const PlanInput& input, const PassResult& pass) {
    constexpr double leastEndCharge = 0.2;
    if (!(pass.windingPeak < input.motor.winding_limit_C)) return "winding_limit";
    if (!(std::max(pass.casePeak, pass.caseSoakPeak) < input.motor.limit_C)) return "case_limit";
    if (!(pass.controllerPeak < input.controller.limit_C)) return "controller_limit";
    if (!(pass.packPeak < input.pack.limit_C)) return "pack_limit";
    if (!(pass.end.charge > leastEndCharge)) return "end_charge";
    if (!pass.completed) return "not_completed";
    return std::nullopt;
}

std::string_view dayEndText(std::string_view what) {
    if (what == "end_charge") return "Charge, a fifth left";
    if (what == "not_completed") return "The pass is not completed";
    return limitRow(what).title;
}

std::optional<PassResult> nextPassIfAny(const PassSetup& setup, const PassResult& before, double wait_s) {
    try {
        return simulatePass(setup, standFor(setup, before.end, wait_s));
    } catch (const InputError&) {
        return std::nullopt;
    }
}

HeatHistory heatHistory(const PlanInput& input, int count) {
    HeatHistory history;
    const PassSetup setup = passSetup(input);
    StartState state = startState(input);
    PassOptions options;
    options.traceRate = traceRate;
    double now = 0.0;
    for (int i = 0; i < count; ++i) {
        const PassResult pass = simulatePass(setup, state, options, [&](const Instant& at) {
            note(history, now + at.time,
                 {at.charge, at.polarisation, at.winding, at.motorCase, at.controller, at.pack});
        });
        history.passes.emplace_back(now, now + pass.duration);
        now += pass.duration;
        const double wait = i + 1 < count ? input.drive.turn_around_s : lastSoak;
        state = stand(history, setup, pass.end, now, wait);
        now += wait;
    }
    return history;
}

int passesWorthShowing(const PlanInput& input, int passesUntilLimit) {
    return std::clamp(std::max(input.drive.passes, passesUntilLimit + 1), 2, mostPasses);
}

} // namespace rw
