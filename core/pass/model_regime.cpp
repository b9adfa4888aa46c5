// Which equations hold at an instant: the limit that binds, the axles on the ground, the direction of current and
// torque.
#include "core/error.h"
#include "core/pass/model.h"

#include <array>
#include <cmath>

namespace rw::pass {

State tolerances(double relative) {
    State a;
    a.fill(relative);
    a[V] *= 0.1;
    a[Z] *= 0.01;
    a[U1] *= 0.01;
    return a;
}

State stateOf(const PassSetup& setup, const StartState& start) {
    State y{};
    y[Z] = start.charge;
    y[U1] = setup.pack.hasRc() ? start.polarisation : 0.0;
    y[TW] = start.winding;
    y[TH] = start.motorCase;
    y[TC] = start.controller;
    y[TP] = start.pack;
    return y;
}

StartState startOf(const State& y) { return {y[Z], y[U1], y[TW], y[TH], y[TC], y[TP]}; }

void refuseRunaway(const State& y) {
    constexpr double hottest = 1e5; // °C
    for (const std::size_t node : {TW, TH, TC, TP})
        if (!(std::abs(y[node]) < hottest))
            throw InputError("the pass", "heats up without end, past 100,000 °C; expected less current, or look over "
                                         "resistances, heat capacities and temperature coefficients");
}

std::size_t fallingInterval(const OpenCircuitVoltage& ocv, double charge) {
    const std::size_t interval = ocv.interval(charge);
    return interval > 0 && ocv.knot(interval - 1) == charge ? interval - 1 : interval;
}

Solution Model::settle(double time, const State& y, Regime& regime, double& hint) const {
    // Under traction a rear drive that lifts its front has one solution more; the one with more force is the limit.
    const DrivenAxle drive = setup_->chassis.drive;
    regime.axles = Axles::Both;
    if (regime.sliding && drive == DrivenAxle::Front) regime.axles = Axles::RearUp;
    if (!regime.sliding && atEdge(regime) && drive == DrivenAxle::Rear) regime.axles = Axles::FrontUp;
    regime.flowing = regime.open;
    regime.pushing = regime.open;
    regime.headOn = (regime.moving ? y[V] : 0.0) + setup_->strip.headWind >= 0.0;
    Solution s;
    for (int i = 0; i < 12; ++i) {
        s = solve(time, y, regime, hint);
        // Current and torque first: a brake that the clip of the current takes away may have lifted an axle.
        const bool flowing = regime.open && s.rawCurrent > 0.0;
        const bool pushing = s.torque >= 0.0;
        if (flowing != regime.flowing || pushing != regime.pushing) {
            regime.flowing = flowing;
            regime.pushing = pushing;
            continue;
        }
        const Axles axles = s.total <= 0.0  ? Axles::Flying
                            : s.front < 0.0 ? Axles::FrontUp
                            : s.rear < 0.0  ? Axles::RearUp
                                            : Axles::Both;
        if (axles == regime.axles) break;
        regime.axles = axles;
    }
    return s;
}

void Model::resolve(double time, const State& y, Regime& regime, std::optional<Limit> without, double& hint) const {
    if (!regime.open) {
        regime.limit = Limit::None;
        regime.sliding = false;
        const Solution s = settle(time, y, regime, hint);
        if (std::abs(s.edgeShare) > 1.0 || s.drivenLoad <= 0.0) {
            regime.sliding = true;
            settle(time, y, regime, hint);
        }
        return;
    }
    regime.sliding = false;
    constexpr std::array candidates{Limit::None, Limit::MotorCurrent, Limit::PackCurrent, Limit::Cutoff};
    // At the first instant of a ramp a limit that allows no current and the throttle allow the same: it binds from
    // there on.
    const bool opening =
        regime.driven ? regime.lineDuty == 0.0 && time == regime.lineFrom : !regime.full && time == 0.0;
    const auto lower = [&](Limit l, Limit than, const Solution& s) {
        const double allowed = dutyAllowed(l, time, regime, s);
        const double other = dutyAllowed(than, time, regime, s);
        return allowed < other || (opening && than == Limit::None && l != Limit::None && allowed <= other);
    };
    const auto least = [&](const Solution& s) {
        Limit best = Limit::None;
        for (const Limit l : candidates)
            if (l != without && lower(l, best, s)) best = l;
        return best;
    };
    regime.limit = Limit::Traction;
    const Solution edge = settle(time, y, regime, hint);
    if (edge.drivenLoad <= 0.0) return;
    if (without != Limit::Traction && foldMarginOf(Limit::Traction, edge) >= 0.0 &&
        dutyAllowed(least(edge), time, regime, edge) >= edge.duty)
        return;
    regime.limit = Limit::None;
    for (int i = 0; i < 8; ++i) {
        const Solution s = settle(time, y, regime, hint);
        if (s.edgeShare < -1.0 && !regime.sliding) {
            regime.sliding = true;
            continue;
        }
        const Limit next = least(s);
        if (next == regime.limit || !lower(next, regime.limit, s)) break;
        regime.limit = next;
    }
}

} // namespace rw::pass
