// Steady speeds and the balance of forces, from the start state at full throttle. core/physics/README.md 8, 10.
#include "core/pass/model.h"
#include "core/units.h"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

using pass::Model;
using pass::Regime;
using pass::State;

State stateOf(const StartState& start, double speed) {
    State y{};
    y[pass::V] = speed;
    y[pass::Z] = start.charge;
    y[pass::U1] = start.polarisation;
    y[pass::TW] = start.winding;
    y[pass::TH] = start.motorCase;
    y[pass::TC] = start.controller;
    y[pass::TP] = start.pack;
    return y;
}

Regime fullThrottle(const PassSetup& setup, const StartState& start) {
    Regime r;
    r.moving = true;
    r.full = true;
    r.ocvInterval = setup.pack.ocv.interval(start.charge);
    return r;
}

double accelerationAt(const Model& model, const StartState& start, double speed, double& hint) {
    Regime regime = fullThrottle(model.setup(), start);
    const State y = stateOf(start, speed);
    model.resolve(0.0, y, regime, std::nullopt, hint);
    return model.solve(0.0, y, regime, hint).acceleration;
}

} // namespace

std::optional<double> steadyTopSpeed(const PassSetup& setup, const StartState& start) {
    constexpr double atRest = 1e-12; // m/s²: what is left where nothing resists is rounding
    constexpr double most = 2000.0;  // m/s; also the table's largest length over one second: beyond any wheel
    const Model model(setup);
    double hint = 0.0;
    double low = 0.0;
    double atLow = accelerationAt(model, start, 0.0, hint);
    if (!(atLow > atRest)) return 0.0;
    while (low < most) {
        // Fine enough that a pair of roots between neighbours would need forces that change within 2 % of the speed.
        const double high = low + std::max(0.05, 0.02 * low);
        const double atHigh = accelerationAt(model, start, high, hint);
        if (atHigh <= atRest) {
            std::uintmax_t iterations = 200;
            const auto close = [](double a, double b) { return b - a <= 1e-11 * b; };
            const auto f = [&](double v) { return accelerationAt(model, start, v, hint) - atRest; };
            const auto root =
                boost::math::tools::toms748_solve(f, low, high, atLow - atRest, atHigh - atRest, close, iterations);
            return 0.5 * (root.first + root.second);
        }
        low = high;
        atLow = atHigh;
    }
    return std::nullopt;
}

std::optional<double> liftOffSpeed(const PassSetup& setup) {
    const Chassis& c = setup.chassis;
    const RoadForces still = roadForces(c, setup.strip.airDensity, setup.strip.grade, 0.0, 0.0);
    const double numerator = still.weightAcross * (c.wheelbase - c.cgBehindFront) - still.slopeForce * c.cgHeight;
    const double denominator =
        0.5 * setup.strip.airDensity * (c.dragArea * c.dragHeight + c.liftAreaFront * c.wheelbase);
    if (!(numerator > 0.0) || !(denominator > 0.0)) return std::nullopt;
    return std::sqrt(numerator / denominator) - setup.strip.headWind;
}

ForceBalance forceBalance(const PassSetup& setup, const StartState& start, double speed) {
    const Model model(setup);
    double hint = 0.0;
    const State y = stateOf(start, speed);
    Regime regime = fullThrottle(setup, start);
    model.resolve(0.0, y, regime, Limit::Traction, hint);
    const pass::Solution free = model.solve(0.0, y, regime, hint);
    regime.limit = Limit::Traction;
    const pass::Solution edge = model.settle(0.0, y, regime, hint);
    const double slope = setup.chassis.mass * standardGravity * setup.strip.grade /
                         std::sqrt(1.0 + setup.strip.grade * setup.strip.grade);
    return {free.tyreForce, edge.tyreForce, free.drag + free.rolling + slope};
}

} // namespace rw
