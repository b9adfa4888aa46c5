// Standing: closed forms, but for a pack whose resistance depends on its temperature. core/physics/README.md 9.
#include "core/pass/pass.h"
#include "core/pass/steps.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

// U_1² / R_1 over time while only the auxiliary current flows.
struct Polarisation {
    double final = 0.0, excess = 0.0, rate = 0.0, resistance = 0.0; // V, V, 1/s, ohm
    [[nodiscard]] double volts(double t) const { return final + excess * std::exp(-rate * t); }
    [[nodiscard]] double heat(double t) const { return resistance > 0.0 ? volts(t) * volts(t) / resistance : 0.0; }
};

// (e^{-mu t} - e^{-lambda t}) / (lambda - mu), also where the two rates are close.
double response(double lambda, double mu, double t) {
    const double slow = std::min(lambda, mu); // the other factor then stays finite for any t
    const double gap = std::abs(lambda - mu);
    return std::exp(-slow * t) * (gap == 0.0 ? t : -std::expm1(-gap * t) / gap);
}

double standingPackLinear(const Pack& pack, double excess, double constantHeat, const Polarisation& u, double seconds) {
    const double lambda = 1.0 / (pack.heat.capacity * pack.heat.toAir.standing);
    double x = excess * std::exp(-lambda * seconds);
    const auto add = [&](double watts, double rate) {
        x += watts / pack.heat.capacity * response(lambda, rate, seconds);
    };
    add(constantHeat, 0.0);
    if (u.resistance > 0.0) {
        add(u.final * u.final / u.resistance, 0.0);
        add(2.0 * u.final * u.excess / u.resistance, u.rate);
        add(u.excess * u.excess / u.resistance, 2.0 * u.rate);
    }
    return x;
}

double standingPack(const PassSetup& setup, double start, const Polarisation& u, double seconds) {
    const Pack& pack = setup.pack;
    const double air = setup.strip.airTemperature;
    const double current2 = setup.controller.auxiliaryCurrent * setup.controller.auxiliaryCurrent;
    if (current2 == 0.0 || pack.resistanceB == 0.0)
        return air + standingPackLinear(pack, start - air, current2 * pack.cellsResistance(25.0), u, seconds);
    const auto rate = [&](double t, const std::array<double, 1>& y, std::array<double, 1>& d) {
        d[0] = (current2 * pack.cellsResistance(y[0]) + u.heat(t) - (y[0] - air) / pack.heat.toAir.standing) /
               pack.heat.capacity;
    };
    constexpr double tolerance = 1e-11;
    Steps<1, decltype(rate)> stepper(rate, tolerance, {tolerance});
    stepper.restart(0.0, {start});
    double h = std::min(seconds, 1e-2);
    for (int i = 0; stepper.time() < seconds; ++i) {
        if (i > mostAttempts) giveUp("wait");
        h = std::min(h, seconds - stepper.time());
        const double error = stepper.attempt(h);
        if (error <= 1.0 || h < 1e-12) {
            stepper.finish();
            stepper.accept();
        }
        h = stepper.resized(h, error);
    }
    return stepper.state()[0];
}

} // namespace

StartState standFor(const PassSetup& setup, const StartState& state, double seconds) {
    if (!(seconds > 0.0)) return state;
    const double air = setup.strip.airTemperature;
    const Pack& pack = setup.pack;
    const double auxiliary = setup.controller.auxiliaryCurrent;
    StartState s = state;
    s.charge -= auxiliary * seconds / pack.capacity;
    Polarisation u;
    if (pack.hasRc()) {
        u = {auxiliary * pack.rcResistance, state.polarisation - auxiliary * pack.rcResistance,
             1.0 / (pack.rcResistance * pack.rcCapacitance), pack.rcResistance};
        s.polarisation = u.volts(seconds);
    }
    const TwoNodeTemperatures motor = cool(setup.motor.heat, {state.winding, state.motorCase}, air, seconds);
    s.winding = motor.winding;
    s.motorCase = motor.motorCase;
    s.controller = settle(setup.controller.heat, state.controller, air, setup.controller.idle, seconds);
    s.pack = standingPack(setup, state.pack, u, seconds);
    return s;
}

SoakPeak soakPeak(const PassSetup& setup, const StartState& state) {
    const CasePeak peak = casePeak(setup.motor.heat, {state.winding, state.motorCase}, setup.strip.airTemperature);
    return {peak.temperature, peak.after};
}

} // namespace rw
