// Whole passes that reduce to textbook mechanics, against their closed forms (calculus; values checked against
// quadrature).
#include "tests/published/reduced_setup.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace {

using namespace rw::reduced;

std::vector<rw::Instant> instants(const rw::PassSetup& setup, double rate) {
    std::vector<rw::Instant> seen;
    rw::PassOptions options;
    options.traceRate = rate;
    (void)rw::simulatePass(setup, {}, options, [&](const rw::Instant& i) { seen.push_back(i); });
    return seen;
}

const rw::Instant& at(const std::vector<rw::Instant>& seen, double time) {
    for (const rw::Instant& i : seen)
        if (std::abs(i.time - time) < 1e-9) return i;
    throw std::runtime_error("no instant at that time");
}

#define EXPECT_RELATIVE(found, expected, tolerance) EXPECT_NEAR(found, expected, (tolerance)*std::abs(expected))

// Constant force F on m with drag k v², from rest: v = v_t tanh(F t/(m v_t)), x = (m/k) ln cosh(F t/(m v_t)).
struct ConstantForce {
    double force;
    [[nodiscard]] double terminal() const { return std::sqrt(force / dragFactor); }
    [[nodiscard]] double speed(double t) const { return terminal() * std::tanh(force * t / (mass * terminal())); }
    [[nodiscard]] double distance(double t) const {
        return mass / dragFactor * std::log(std::cosh(force * t / (mass * terminal())));
    }
    [[nodiscard]] double timeAt(double x) const {
        return mass * terminal() / force * std::acosh(std::exp(dragFactor * x / mass));
    }
    [[nodiscard]] double speedAt(double x) const {
        return terminal() * std::sqrt(1.0 - std::exp(-2.0 * dragFactor * x / mass));
    }
};

rw::PassSetup constantForce(double runUp, double timed, double force) {
    rw::PassSetup s = setup(runUp, timed);
    s.controller.motorCurrentLimit = force * wheelRadius;
    return s;
}

TEST(ConstantForcePass, followsTanhInSpeedAndLogCoshInDistance) {
    const std::vector<rw::Instant> seen = instants(constantForce(300.0, 200.0, 40.0), 1.0);
    const double rows[][3] = {{1.0, 9.852651702, 4.962943941},
                              {2.0, 18.88053308, 19.42731286},
                              {5.0, 37.04845425, 106.8285556},
                              {10.0, 45.80486541, 320.5423322}};
    for (const auto& row : rows) {
        EXPECT_RELATIVE(at(seen, row[0]).speed, row[1], 2e-9);
        EXPECT_RELATIVE(at(seen, row[0]).distance, row[2], 2e-9);
        EXPECT_EQ(at(seen, row[0]).limit, rw::Limit::MotorCurrent);
    }
}

TEST(ConstantForcePass, locatesZoneAndTargetToANanosecond) {
    const ConstantForce exact{40.0};
    rw::PassSetup s = constantForce(120.0, 30.0, 40.0);
    s.driving.target = 30.0;
    const rw::PassResult r = rw::simulatePass(s, {});
    ASSERT_TRUE(r.completed);
    EXPECT_NEAR(*r.zoneEntry, exact.timeAt(120.0), 1e-9);
    EXPECT_NEAR(*r.zoneExit, exact.timeAt(150.0), 1e-9);
    EXPECT_RELATIVE(*r.zoneMean, 30.0 / (exact.timeAt(150.0) - exact.timeAt(120.0)), 1e-9);
    const double reached = mass * exact.terminal() / 40.0 * std::atanh(30.0 / exact.terminal());
    EXPECT_NEAR(*r.timeToTarget, reached, 1e-9);
    EXPECT_RELATIVE(*r.distanceToTarget, exact.distance(reached), 1e-9);
    EXPECT_RELATIVE(r.peakSpeed, exact.speedAt(150.0), 1e-9);
    EXPECT_NEAR(r.peakSpeedAt, 150.0, 1e-9);
    EXPECT_RELATIVE(r.bound.motorCurrent, *r.zoneExit, 1e-12);
    // Shaft power is force times speed and is largest at the exit; 1 A pushes with 20 N.
    EXPECT_RELATIVE(r.peakShaft, 40.0 * exact.speedAt(150.0), 1e-9);
    EXPECT_RELATIVE(r.peakMotorSpeed, exact.speedAt(150.0) / wheelRadius, 1e-9);
}

// Speed over distance rises up to the exit: e^(−2k·1000 m/m) leaves 6e-5 of it to gain, and 1e-9 of it are gained over
// the last 2 mm.
TEST(ConstantForcePass, isFastestAtTheExitHoweverSlowlyItStillGains) {
    const rw::PassResult r = rw::simulatePass(constantForce(900.0, 100.0, 40.0), {});
    EXPECT_RELATIVE(r.peakSpeed, ConstantForce{40.0}.speedAt(1000.0), 1e-9);
    EXPECT_RELATIVE(r.peakSpeedAt, 1000.0, 1e-7);
}

TEST(ConstantForcePass, againstTheWindMeetsTheTerminalSpeedShiftedByIt) {
    // In the frame of the air: v + w = v_t tanh(F t/(m v_t) + artanh(w/v_t)).
    rw::PassSetup s = constantForce(200.0, 50.0, 40.0);
    s.strip.headWind = 6.0;
    const double terminal = std::sqrt(40.0 / dragFactor);
    const std::vector<rw::Instant> seen = instants(s, 1.0);
    for (const double t : {1.0, 3.0, 6.0})
        EXPECT_RELATIVE(at(seen, t).speed,
                        terminal * std::tanh(40.0 * t / (mass * terminal) + std::atanh(6.0 / terminal)) - 6.0, 2e-9);
    EXPECT_RELATIVE(rw::steadyTopSpeed(s, {}).value(), terminal - 6.0, 1e-9);
}

TEST(ConstantForcePass, uphillLosesTheSlopesShareOfTheWeight) {
    // F − m g sin θ stays constant: the same closed form with the smaller force; tan θ = 0.05.
    rw::PassSetup s = constantForce(200.0, 50.0, 40.0);
    s.strip.grade = 0.05;
    const ConstantForce exact{40.0 - mass * 9.80665 * std::sin(std::atan(0.05))};
    const rw::PassResult r = rw::simulatePass(s, {});
    EXPECT_NEAR(*r.zoneEntry, exact.timeAt(200.0), 1e-9);
    EXPECT_NEAR(*r.zoneExit, exact.timeAt(250.0), 1e-9);
    EXPECT_RELATIVE(rw::steadyTopSpeed(s, {}).value(), exact.terminal(), 1e-9);
}

TEST(ConstantForcePass, onALongStripApproachesItsSteadyTopSpeed) {
    // 40 N against 0.018 v²: 47.14045208 m/s.
    const rw::PassSetup s = constantForce(2500.0, 200.0, 40.0);
    EXPECT_RELATIVE(rw::steadyTopSpeed(s, {}).value(), 47.14045208, 1e-9);
    const rw::PassResult r = rw::simulatePass(s, {});
    EXPECT_RELATIVE(r.peakSpeed, rw::steadyTopSpeed(s, {}).value(), 1e-9);
}

TEST(ConstantForcePass, brakesAtConstantForceAndQuadraticDrag) {
    // From v0 against B + k v²: x = (m/2k) ln((B + k v0²)/(B + k v1²)), down to the rest speed of 0.2 m/s.
    const ConstantForce exact{40.0};
    const rw::PassResult r = rw::simulatePass(constantForce(120.0, 30.0, 40.0), {});
    const double exitSpeed = exact.speedAt(150.0);
    const double coasted =
        exitSpeed / (1.0 + dragFactor * exitSpeed * 0.3 / mass); // v' = −k v²/m for the reaction's 0.3 s
    const double brake = 0.4 * mass * 9.80665;
    const double distance = mass / (2.0 * dragFactor) *
                            std::log((brake + dragFactor * coasted * coasted) / (brake + dragFactor * 0.2 * 0.2));
    EXPECT_RELATIVE(r.braking.value(), distance, 1e-9);
    const double rolled = mass / dragFactor * std::log(exitSpeed / coasted);
    EXPECT_RELATIVE(r.stopAt, 150.0 + rolled + distance, 1e-9);
}

// 200 N until 2000 W give no more, constant power from there on. The limits tell themselves apart by the voltage over
// the winding, so it needs a resistance: 1 µΩ costs 1e-4 W at 10 A, 5e-8 of the power, and falls with the current
// squared.
constexpr double power = 2000.0, startForce = 200.0;

rw::PassSetup constantPower(double runUp, double timed) {
    rw::PassSetup s = setup(runUp, timed);
    s.motor.resistance20 = 1e-6;
    s.controller.motorCurrentLimit = startForce * wheelRadius;
    s.controller.packCurrentLimit = power / sourceVolts;
    return s;
}

// Where the power took over from the force.
rw::Instant handover(const std::vector<rw::Instant>& seen) {
    for (const rw::Instant& i : seen)
        if (i.limit == rw::Limit::PackCurrent) return i;
    throw std::runtime_error("power never took over");
}

TEST(ConstantPowerPass, beginsWhereForceTimesSpeedIsThePower) {
    // F = P/v: 10 m/s; the voltage that tells the limits apart is 2e-9 of the source's, so to 1e-3.
    const rw::Instant from = handover(instants(constantPower(500.0, 100.0), 10.0));
    EXPECT_RELATIVE(from.speed, power / startForce, 1e-3);
    EXPECT_RELATIVE(from.speed, ConstantForce{startForce}.speed(from.time), 1e-9);
}

TEST(ConstantPowerPass, followsTheLawOfSpeedOverDistance) {
    // v³ = v_t³ − (v_t³ − v1³) e^(−3k(x − x1)/m), v_t = (P/k)^(1/3) = 48.07498568 m/s.
    const double terminal = std::cbrt(power / dragFactor);
    EXPECT_NEAR(terminal, 48.07498568, 5e-9);
    const rw::PassSetup s = constantPower(500.0, 100.0);
    const std::vector<rw::Instant> seen = instants(s, 10.0);
    const rw::Instant from = handover(seen);
    int checked = 0;
    for (const rw::Instant& i : seen) {
        if (i.phase != rw::Phase::RunUp || i.time <= from.time) continue;
        const double cube =
            std::pow(terminal, 3) - (std::pow(terminal, 3) - std::pow(from.speed, 3)) *
                                        std::exp(-3.0 * dragFactor * (i.distance - from.distance) / mass);
        EXPECT_RELATIVE(i.speed, std::cbrt(cube), 1e-7) << i.time;
        EXPECT_EQ(i.limit, rw::Limit::PackCurrent);
        ++checked;
    }
    EXPECT_GT(checked, 50);
    EXPECT_RELATIVE(rw::steadyTopSpeed(s, {}).value(), terminal, 1e-7);
}

// Time from rest to the share u of the terminal speed at constant power with quadratic drag.
double timeToShare(double u) {
    const double terminal = std::cbrt(power / dragFactor);
    const double root3 = std::numbers::sqrt3;
    return mass * terminal * terminal / power *
           (std::log((1.0 + u + u * u) / ((1.0 - u) * (1.0 - u))) / 6.0 - std::atan((2.0 * u + 1.0) / root3) / root3 +
            std::numbers::pi / (6.0 * root3));
}

TEST(ConstantPowerPass, takesTheTimeOfTheIntegral) {
    EXPECT_NEAR(timeToShare(0.5), 0.6091758094, 5e-11); // by quadrature
    EXPECT_NEAR(timeToShare(0.99), 6.544703980, 5e-10);
    const double terminal = std::cbrt(power / dragFactor);
    const rw::Instant from = handover(instants(constantPower(500.0, 100.0), 10.0));
    for (const double share : {0.5, 0.9, 0.99}) {
        rw::PassSetup s = constantPower(500.0, 100.0);
        s.driving.target = share * terminal;
        const rw::PassResult r = rw::simulatePass(s, {});
        EXPECT_RELATIVE(r.timeToTarget.value() - from.time, timeToShare(share) - timeToShare(from.speed / terminal),
                        1e-7)
            << share;
    }
}

TEST(ConstantPowerPass, withoutDragSpendsAllOnSpeed) {
    // ½ m v² = ½ m v1² + P (t − t1).
    rw::PassSetup s = constantPower(200.0, 50.0);
    s.chassis.dragArea = 0.0;
    const std::vector<rw::Instant> seen = instants(s, 1.0);
    const rw::Instant from = handover(seen);
    for (const double t : {1.0, 3.0, 5.0})
        EXPECT_RELATIVE(at(seen, t).speed, std::sqrt(from.speed * from.speed + 2.0 * power * (t - from.time) / mass),
                        1e-7);
}

// Coast-down from v0 against F0 + k v²: v = √(F0/k) tan(φ0 − t √(F0 k)/m), φ0 = atan(v0 √(k/F0)).
// The two-term road load of SAE J1263 (scope and method seen in summaries).
struct CoastDown {
    double force, start;
    [[nodiscard]] double angle() const { return std::atan(start * std::sqrt(dragFactor / force)); }
    [[nodiscard]] double speed(double t) const {
        return std::sqrt(force / dragFactor) * std::tan(angle() - t * std::sqrt(force * dragFactor) / mass);
    }
    [[nodiscard]] double distance(double t) const {
        const double cosine = std::cos(angle() - t * std::sqrt(force * dragFactor) / mass);
        return mass / dragFactor * std::log(cosine / std::cos(angle()));
    }
    [[nodiscard]] double timeTo(double speed) const {
        return mass / std::sqrt(force * dragFactor) * (angle() - std::atan(speed * std::sqrt(dragFactor / force)));
    }
};

TEST(CoastDownPass, followsTheTangentToRest) {
    const CoastDown fromForty{2.5, 40.0};
    EXPECT_NEAR(fromForty.speed(2.0), 28.46080554, 5e-9); // by quadrature
    EXPECT_NEAR(fromForty.distance(10.0), 210.5719511, 5e-8);
    // Driven with 40 N against 2.5 N and drag to 40 m/s exactly at the exit, then coasting with no brake in sight.
    const double exitAt = mass / (2.0 * dragFactor) * std::log(37.5 / (37.5 - dragFactor * 1600.0));
    rw::PassSetup s = constantForce(exitAt - 20.0, 20.0, 40.0);
    s.chassis.rolling0 = 2.5 / (mass * 9.80665);
    s.driving.reaction = 100.0;
    const rw::PassResult r = rw::simulatePass(s, {});
    ASSERT_TRUE(r.completed);
    EXPECT_RELATIVE(r.peakSpeed, 40.0, 1e-9);
    int checked = 0;
    for (const rw::Instant& i : instants(s, 20.0)) {
        if (i.phase != rw::Phase::Coast) continue;
        EXPECT_NEAR(i.speed, fromForty.speed(i.time - *r.zoneExit), 4e-8) << i.time;
        EXPECT_NEAR(i.distance - exitAt, fromForty.distance(i.time - *r.zoneExit), 3e-7) << i.time;
        ++checked;
    }
    EXPECT_GT(checked, 200);
    // At rest below 0.2 m/s; braking never began.
    EXPECT_NEAR(r.duration - *r.zoneExit, fromForty.timeTo(0.2), 1e-7);
    EXPECT_EQ(r.braking.value(), 0.0);
}

} // namespace
