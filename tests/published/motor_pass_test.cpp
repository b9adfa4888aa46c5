// The motor as the model of a pass runs it, against textbook optima and worked values of the direct-current motor.
#include "core/pass/model.h"
#include "core/units.h"
#include "tests/published/reduced_setup.h"

#include <gtest/gtest.h>

#include <boost/math/tools/toms748_solve.hpp>

#include <cmath>
#include <cstdint>

namespace {

rw::Motor motor(double kv, double resistance, double noLoad) {
    rw::Motor m;
    m.kv_rpmPerVolt = kv;
    m.resistance20 = resistance;
    m.noLoad = {noLoad, 0.0, 1.0};
    return m;
}

struct Point {
    double backEmf, speed_rpm, torque, shaft, efficiency;
};

// Full throttle on a stiff supply, the car held at the speed at which its motor takes the current; it grips whatever
// the torque.
Point at(const rw::Motor& m, double volts, double current) {
    rw::PassSetup setup = rw::reduced::setup(100.0, 100.0);
    setup.motor = m;
    setup.pack.ocv = rw::OpenCircuitVoltage({0.0, 1.0}, {volts, volts});
    const rw::pass::Model model(setup);
    rw::pass::Regime regime;
    regime.moving = regime.open = regime.full = true;
    const auto solved = [&](double speed) {
        rw::pass::State y{};
        y[rw::pass::V] = speed, y[rw::pass::Z] = 0.5;
        y[rw::pass::TW] = y[rw::pass::TH] = y[rw::pass::TC] = y[rw::pass::TP] = 20.0;
        double hint = 0.0;
        return model.solve(0.0, y, regime, hint);
    };
    const double unloaded = volts / m.constant(20.0) * setup.tyre.radius / setup.gearing.ratio;
    const auto more = [&](double speed) { return solved(speed).motorCurrent - current; };
    std::uintmax_t rounds = 200;
    const auto found = boost::math::tools::toms748_solve(more, 1e-3 * unloaded, unloaded,
                                                         boost::math::tools::eps_tolerance<double>(50), rounds);
    const rw::pass::Solution s = solved(0.5 * (found.first + found.second));
    const double shaft = s.torque * s.motorSpeed;
    return {s.backEmf, s.motorSpeed * rw::rpmPerRadps, s.torque, shaft, shaft / (s.packVoltage * s.packCurrent)};
}

TEST(Motor, reproducesAPermanentMagnetExercise) {
    // Public homework exercise: 12 V, no load 3800 rpm, stall torque 30 mN·m, at 2500 rpm; values by hand, 1e-6.
    const double k = 12.0 / (3800.0 * rw::radpsPerRpm);
    const rw::Motor m = motor(3800.0 / 12.0, 12.0 * k / 0.030, 0.0);
    EXPECT_NEAR(m.resistance20, 12.06227, 1e-5);
    EXPECT_NEAR(m.constant(20.0), 0.03015567, 1e-8);
    const double current = (12.0 - m.constant(20.0) * 2500.0 * rw::radpsPerRpm) / m.resistance(20.0);
    const Point p = at(m, 12.0, current);
    EXPECT_NEAR(current, 0.340339, 1e-6);
    EXPECT_NEAR(p.backEmf, 7.894737, 1e-6);
    EXPECT_NEAR(p.torque, 10.263158e-3, 1e-8);
    EXPECT_NEAR(p.shaft, 2.686888, 3e-6);
    EXPECT_NEAR(12.0 * current - p.shaft, 1.397182, 2e-6);
}

TEST(Motor, withConstantNoLoadCurrentFollowsTheTextbook) {
    // K_v 1750, 5 mΩ, I_0 5 A, 25.2 V: the direct-current motor's equations, by hand, 1e-9.
    const rw::Motor m = motor(1750.0, 0.005, 5.0);
    EXPECT_NEAR(m.constant(20.0), 0.005456740906, 5e-13);
    const Point hundred = at(m, 25.2, 100.0);
    EXPECT_NEAR(hundred.speed_rpm, 43225.0, 4e-5);
    EXPECT_NEAR(hundred.torque, 0.5183903861, 5e-10);
    EXPECT_NEAR(hundred.shaft, 2346.5, 2e-6);
    EXPECT_NEAR(hundred.efficiency, 0.9311507937, 1e-9);
    const Point twoHundred = at(m, 25.2, 200.0);
    EXPECT_NEAR(twoHundred.speed_rpm, 42350.0, 4e-5);
    EXPECT_NEAR(twoHundred.torque, 1.0640644767, 1e-9);
    EXPECT_NEAR(twoHundred.efficiency, 0.9363095238, 1e-9);
    EXPECT_NEAR(at(m, 25.2, 5.0).speed_rpm, 44056.25, 4e-5); // no load
}

TEST(Motor, isMostEfficientWhereTheTextbookSays) {
    // I = sqrt(I_0 I_stall), η = (1 − sqrt(I_0/I_stall))²; e.g. Hughes, Electric Motors and Drives (from memory).
    const rw::Motor m = motor(1750.0, 0.005, 5.0);
    const double best = std::sqrt(5.0 * 25.2 / 0.005);
    EXPECT_NEAR(best, 158.7450787, 1e-7);
    EXPECT_NEAR(at(m, 25.2, best).efficiency, 0.9379979847, 1e-9);
    EXPECT_LT(at(m, 25.2, best * 1.001).efficiency, at(m, 25.2, best).efficiency);
    EXPECT_LT(at(m, 25.2, best * 0.999).efficiency, at(m, 25.2, best).efficiency);
}

TEST(Motor, givesMostPowerHalfWayToStall) {
    // I = (I_stall + I_0)/2, P = (V − R I_0)²/(4R): the parabola's vertex (from memory).
    const rw::Motor m = motor(1750.0, 0.005, 5.0);
    const Point p = at(m, 25.2, 2522.5);
    EXPECT_NEAR(p.shaft, 31689.03125, 3e-5);
    EXPECT_NEAR(p.speed_rpm, 22028.125, 2e-5);
    EXPECT_LT(at(m, 25.2, 2523.5).shaft, p.shaft);
    EXPECT_LT(at(m, 25.2, 2521.5).shaft, p.shaft);
}

} // namespace
