#include "tests/pass/reference/guards.h"

#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw::reference {

using pass::Axles;

namespace {

constexpr double restSpeed = 0.2; // m/s
constexpr std::array dutyLimits{Limit::None, Limit::MotorCurrent, Limit::PackCurrent, Limit::Cutoff};

void guardLoads(Guards& g, const pass::Regime& regime, const pass::Solution& s) {
    switch (regime.axles) {
    case Axles::Both:
        g[FrontLoad] = s.front;
        g[RearLoad] = s.rear;
        break;
    case Axles::FrontUp:
        g[FrontLoad] = -s.front;
        break;
    case Axles::RearUp:
        g[RearLoad] = -s.rear;
        break;
    case Axles::Flying:
        break;
    }
    g[TotalLoad] = regime.axles == Axles::Flying ? -s.total : s.total;
}

void guardLimits(Guards& g, const pass::Model& model, double time, const pass::Regime& regime,
                 const pass::Solution& s) {
    double least = s.duty + 1.0;
    for (const Limit limit : dutyLimits)
        if (limit != regime.limit) least = std::min(least, model.dutyAllowed(limit, time, regime, s));
    g[OtherLimit] = least - s.duty;
    if (regime.limit == Limit::MotorCurrent || regime.limit == Limit::Traction)
        g[Fold] = model.foldMarginOf(regime.limit, s);
    if (regime.limit != Limit::Traction) g[Edge] = 1.0 - s.edgeShare;
}

} // namespace

Limit leastLimit(const pass::Model& model, double time, const pass::Regime& regime, const pass::Solution& s) {
    Limit best = regime.limit == Limit::None ? Limit::MotorCurrent : Limit::None;
    for (const Limit limit : dutyLimits)
        if (limit != regime.limit &&
            model.dutyAllowed(limit, time, regime, s) < model.dutyAllowed(best, time, regime, s))
            best = limit;
    return best;
}

Guards guards(const pass::Model& model, double time, const pass::State& y, const pass::Regime& regime,
              const pass::Solution& s, const Situation& situation) {
    Guards g;
    g.fill(1.0);
    if (situation.marked) g[Mark] = situation.nextMark - y[pass::X];
    if (situation.targetOpen) g[Target] = situation.target - y[pass::V];
    if (regime.moving) {
        g[Stopping] = situation.rolled ? y[pass::V] - restSpeed : y[pass::V];
        if (!situation.rolled) g[Rolling] = restSpeed - y[pass::V];
        g[Slowing] = s.acceleration;
    } else {
        g[Launch] = -s.acceleration;
    }
    if (model.setup().strip.headWind < 0.0) {
        const double air = (regime.moving ? y[pass::V] : 0.0) + model.setup().strip.headWind;
        g[Overtaken] = regime.headOn ? air : -air;
    }
    g[Push] = regime.pushing ? s.torque : -s.torque;
    guardLoads(g, regime, s);
    if (regime.ocvInterval > 0) g[Knot] = y[pass::Z] - model.setup().pack.ocv.knot(regime.ocvInterval - 1);
    if (regime.open) {
        g[Flow] = regime.flowing ? s.rawCurrent : -s.rawCurrent;
        guardLimits(g, model, time, regime, s);
    } else if (regime.sliding) {
        const Driving& driving = model.setup().driving;
        const double brake =
            regime.braking ? driving.brakeFraction * model.setup().chassis.mass * standardGravity : 0.0;
        g[Edge] = brake - s.rawBrake;
    } else {
        g[Edge] = 1.0 - std::abs(s.edgeShare);
    }
    if (situation.voltageWatched) {
        const double over = s.packVoltage - model.setup().controller.cutoffVoltage;
        g[Voltage] = situation.belowCutoff ? -over : over;
    }
    return g;
}

} // namespace rw::reference
