// Properties that hold for every vehicle, over random ones: limits are kept, nothing is infinite or not a number,
// tightening the tolerance changes nothing, and physics' monotonies and symmetries.
#include "tests/pass/random_setup.h"
#include "tests/pass/samples/sample_passes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace {

using rw::testing::RandomPass;
using rw::testing::randomPass;

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr unsigned vehicles = 300; // the sanitizers' share of the same seeds
#else
constexpr unsigned vehicles = 3000;
#endif

struct Excess { // largest overshoot of what a limit allows, relative
    double motor = 0.0, pack = 0.0, voltage = 0.0, grip = 0.0, duty = 0.0;
    bool finite = true;
};

Excess excessOf(const RandomPass& pass) {
    Excess e;
    const rw::Controller& c = pass.setup.controller;
    rw::PassOptions options;
    options.traceRate = 50.0;
    (void)rw::simulatePass(pass.setup, pass.start, options, [&](const rw::Instant& i) {
        for (const double value : {i.time, i.distance, i.speed, i.acceleration, i.duty, i.packVoltage, i.packCurrent,
                                   i.motorCurrent, i.motorSpeed, i.wheelSpeed, i.winding, i.motorCase, i.controller,
                                   i.pack, i.frontLoad, i.rearLoad, i.charge, i.tyreForce})
            e.finite = e.finite && std::isfinite(value);
        const double load = pass.setup.chassis.drive == rw::DrivenAxle::Front  ? i.frontLoad
                            : pass.setup.chassis.drive == rw::DrivenAxle::Rear ? i.rearLoad
                                                                               : i.frontLoad + i.rearLoad;
        const double weight = pass.setup.chassis.mass * 9.80665;
        if (i.speed > 0.0)
            e.grip = std::max(e.grip, (std::abs(i.tyreForce) - pass.setup.strip.friction * load) / weight);
        if (!(i.motorCurrent > 0.0)) return;
        if (c.motorCurrentLimit) e.motor = std::max(e.motor, i.motorCurrent / *c.motorCurrentLimit - 1.0);
        if (c.packCurrentLimit && *c.packCurrentLimit > c.auxiliaryCurrent)
            e.pack = std::max(e.pack, i.packCurrent / *c.packCurrentLimit - 1.0);
        if (c.cutoff == rw::CutoffMode::Soft) e.voltage = std::max(e.voltage, 1.0 - i.packVoltage / c.cutoffVoltage);
        e.duty = std::max(e.duty, i.duty / (c.endpoint * i.throttle) - 1.0);
    });
    return e;
}

TEST(RandomVehicles, keepEveryLimitAndStayFinite) {
    for (unsigned seed = 0; seed < vehicles; ++seed) {
        const Excess e = excessOf(randomPass(seed));
        ASSERT_TRUE(e.finite) << "vehicle " << seed;
        ASSERT_LE(e.motor, 1e-6) << "vehicle " << seed;
        ASSERT_LE(e.pack, 1e-6) << "vehicle " << seed;
        ASSERT_LE(e.voltage, 1e-6) << "vehicle " << seed;
        ASSERT_LE(e.grip, 1e-6) << "vehicle " << seed;
        ASSERT_LE(e.duty, 1e-6) << "vehicle " << seed;
    }
}

TEST(RandomVehicles, reportFiguresInTheirOrder) {
    for (unsigned seed = 0; seed < vehicles; ++seed) {
        const RandomPass pass = randomPass(seed);
        const rw::PassResult r = rw::simulatePass(pass.setup, pass.start);
        SCOPED_TRACE(testing::Message() << "vehicle " << seed);
        for (const rw::testing::Figure& figure : rw::testing::figuresOf(r))
            ASSERT_TRUE(std::isfinite(figure.value.value_or(0.0))) << figure.name;
        if (r.completed) {
            ASSERT_LT(*r.zoneEntry, *r.zoneExit);
            ASSERT_LE(*r.zoneExit, r.duration);
            ASSERT_LE(*r.zoneMean, r.peakSpeed * (1.0 + 1e-9));
            ASSERT_GE(r.stopAt, pass.setup.strip.runUp + pass.setup.strip.timed - 1e-9);
            ASSERT_GE(*r.braking, 0.0);
        }
        ASSERT_GE(r.windingPeak, std::max(r.end.winding, pass.start.winding) - 1e-9);
        ASSERT_GE(r.caseSoakPeak, std::min(r.end.motorCase, pass.setup.strip.airTemperature) - 1e-9);
        ASSERT_GE(r.peakPackCurrent, pass.setup.controller.auxiliaryCurrent);
        const double bound = r.bound.motorCurrent + r.bound.packCurrent + r.bound.traction + r.bound.cutoff;
        ASSERT_LE(bound, r.zoneExit.value_or(r.duration) + 1e-9);
    }
}

TEST(RandomVehicles, figuresDoNotDependOnTheTolerance) {
    rw::PassOptions tight;
    tight.precision.tolerance /= 10.0;
    for (unsigned seed = 0; seed < vehicles; seed += 10) {
        const RandomPass pass = randomPass(seed);
        const std::vector<rw::testing::Figure> usual = rw::testing::figuresOf(rw::simulatePass(pass.setup, pass.start));
        const std::vector<rw::testing::Figure> tighter =
            rw::testing::figuresOf(rw::simulatePass(pass.setup, pass.start, tight));
        for (std::size_t i = 0; i < usual.size(); ++i) {
            ASSERT_EQ(usual[i].value.has_value(), tighter[i].value.has_value())
                << usual[i].name << ", vehicle " << seed;
            if (!usual[i].value) continue;
            const double scale = std::max(std::abs(*tighter[i].value), tighter[i].scale);
            ASSERT_LE(std::abs(*usual[i].value - *tighter[i].value), 1e-6 * scale)
                << usual[i].name << ", vehicle " << seed;
        }
    }
}

TEST(RandomVehicles, areNotFasterWithMoreDragAtTheGround) {
    // Drag at ground height shifts no load: it can only take away.
    for (unsigned seed = 0; seed < vehicles; seed += 3) {
        RandomPass pass = randomPass(seed);
        pass.setup.chassis.dragHeight = 0.0;
        pass.setup.strip.headWind = std::max(pass.setup.strip.headWind, 0.0);
        const std::optional<double> slim = rw::steadyTopSpeed(pass.setup, pass.start);
        pass.setup.chassis.dragArea *= 1.2;
        const std::optional<double> wide = rw::steadyTopSpeed(pass.setup, pass.start);
        if (!slim) continue;
        ASSERT_TRUE(wide.has_value()) << "vehicle " << seed;
        ASSERT_LE(*wide, *slim * (1.0 + 1e-9)) << "vehicle " << seed;
    }
}

TEST(RandomVehicles, settleWhereTheDriveBalancesTheRoad) {
    // The steady top speed is a balance: what drives equals what resists.
    int compared = 0;
    for (unsigned seed = 0; seed < vehicles; seed += 10) {
        const RandomPass pass = randomPass(seed);
        const std::optional<double> top = rw::steadyTopSpeed(pass.setup, pass.start);
        if (!top || *top <= 0.0) continue;
        const rw::ForceBalance balance = rw::forceBalance(pass.setup, pass.start, *top);
        ASSERT_NEAR(std::min(balance.drive, balance.tractionLimit), balance.resistance,
                    1e-6 * std::abs(balance.resistance))
            << "vehicle " << seed;
        ++compared;
    }
    EXPECT_GT(compared, static_cast<int>(vehicles) / 20);
}

TEST(RandomVehicles, meetTheMirroredStripOnTheWayBack) {
    // Turned round twice is where it began; turned round once is the other wind and slope.
    for (unsigned seed = 0; seed < 200; ++seed) {
        const RandomPass pass = randomPass(seed);
        rw::PassSetup mirrored = pass.setup;
        mirrored.strip.headWind = -mirrored.strip.headWind;
        mirrored.strip.grade = -mirrored.strip.grade;
        const rw::PassResult back = rw::simulatePass(rw::reversed(pass.setup), pass.start);
        const rw::PassResult mirror = rw::simulatePass(mirrored, pass.start);
        ASSERT_EQ(back.stopAt, mirror.stopAt) << "vehicle " << seed;
        ASSERT_EQ(back.zoneMean, mirror.zoneMean) << "vehicle " << seed;
    }
}

} // namespace
