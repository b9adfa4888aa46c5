#include "core/plan/heat_history.h"

#include "core/pass/pass.h"
#include "core/plan/plan_convert.h"

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

HeatHistory heatHistory(const PlanInput& input, int count) {
    HeatHistory history;
    const PassSetup setup = passSetup(input);
    StartState state = convertedStart(input);
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
