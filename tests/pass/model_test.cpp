// The model works out tyre, loads and cooling in one go for speed; here it is held against the separate functions that
// the published checks test (tests/published), over whole passes of random vehicles.
#include "core/pass/model.h"
#include "core/physics/chassis.h"
#include "core/units.h"
#include "tests/pass/random_setup.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

constexpr unsigned vehicles = 40;

void compareInstant(const PassSetup& setup, const Instant& at, int& forces) {
    if (at.phase == Phase::Standing || at.phase == Phase::Rest || at.speed <= 0.0) return;
    const Chassis& chassis = setup.chassis;
    const RoadForces road =
        roadForces(chassis, setup.strip.airDensity, setup.strip.grade, at.speed + setup.strip.headWind, at.speed);
    const double weight = chassis.mass * standardGravity;
    const AxleLoads loads = axleLoads(chassis, road, at.acceleration);
    EXPECT_NEAR(at.frontLoad, loads.front, 1e-9 * weight);
    EXPECT_NEAR(at.rearLoad, loads.rear, 1e-9 * weight);
    EXPECT_NEAR(at.drag, road.drag, 1e-9 * (weight + std::abs(road.drag)));
    EXPECT_NEAR(at.rolling, road.rolling, 1e-9 * weight);
    const double load = drivenLoad(chassis, loads);
    if (load < 1e-3 * weight) return; // no force without load: what the slip is there is a convention
    // The solver stops where the force that is lacking is rounding beside the weight.
    EXPECT_NEAR(at.tyreForce, brushForce(setup.tyre, at.slip, setup.strip.friction, load), 1e-7 * weight)
        << "at " << at.time << " s, slip " << at.slip;
    ++forces;
}

TEST(Model, HoldsTheBrushTyreAndTheAxleLoadsAtEveryInstant) {
    int forces = 0;
    for (unsigned seed = 1; seed <= vehicles; ++seed) {
        SCOPED_TRACE(seed);
        const RandomPass r = randomPass(seed);
        (void)simulatePass(r.setup, r.start, {}, [&](const Instant& at) { compareInstant(r.setup, at, forces); });
        if (HasFailure()) return;
    }
    EXPECT_GT(forces, 10'000);
}

// With the throttle closed the controller and the pack only idle and cool; the motor's iron loss goes where it is told
// to.
TEST(Model, CoolsAsTheNodesDoAtRandomSpeeds) {
    for (unsigned seed = 1; seed <= vehicles; ++seed) {
        SCOPED_TRACE(seed);
        const RandomPass r = randomPass(seed);
        const PassSetup& s = r.setup;
        const pass::Model model(s);
        const double speed = 2.0 + seed, air = s.strip.airTemperature;
        pass::State y{};
        y[pass::V] = speed, y[pass::Z] = 0.7;
        y[pass::TW] = air + 55.0, y[pass::TH] = air + 30.0, y[pass::TC] = air + 20.0, y[pass::TP] = air + 10.0;
        pass::Regime regime;
        regime.moving = true, regime.open = false, regime.flowing = false, regime.full = true;
        double hint = 0.0;
        model.resolve(0.0, y, regime, std::nullopt, hint);
        const pass::Solution now = model.solve(0.0, y, regime, hint);
        pass::State d{};
        model.rates(y, regime, now, d);
        const Controller& c = s.controller;
        EXPECT_NEAR(d[pass::TC], (c.idle - 20.0 / c.heat.toAir.resistance(speed)) / c.heat.capacity, 1e-9);
        const TwoNodeHeat& h = s.motor.heat;
        const double iron = (1.0 - s.motor.ironLossToWinding) * now.ironLoss;
        EXPECT_NEAR(d[pass::TH], (iron + 25.0 / h.windingToCase - 30.0 / h.toAir.resistance(speed)) / h.caseCapacity,
                    1e-9);
        const double cells = c.auxiliaryCurrent * c.auxiliaryCurrent * now.cellsResistance;
        EXPECT_NEAR(d[pass::TP], (cells - 10.0 / s.pack.heat.toAir.resistance(speed)) / s.pack.heat.capacity, 1e-9);
    }
}

// By hand: 4 kg, axles 0.3 m apart, weight in the middle at 0.03 m, level, no wind, 1.2 kg/m³. Drag area 0.02 m² at
// 0.05 m and front lift area 0.004 m² take m g l_r = 5.883990 N·m at ½ρ(0.02 · 0.05 + 0.004 · 0.3) v² = 0.00132 v²: v
// = 66.765 m/s.
TEST(LiftOff, IsWhereDragAndLiftTakeTheFrontAxlesShare) {
    PassSetup setup;
    setup.chassis.mass = 4.0, setup.chassis.wheelbase = 0.3, setup.chassis.cgBehindFront = 0.15;
    setup.chassis.cgHeight = 0.03, setup.chassis.dragArea = 0.02, setup.chassis.dragHeight = 0.05;
    setup.chassis.liftAreaFront = 0.004;
    setup.strip.airDensity = 1.2;
    const double still = liftOffSpeed(setup).value();
    EXPECT_NEAR(still, 66.765, 5e-4);
    setup.strip.headWind = 5.0; // over ground it lifts off that much sooner
    EXPECT_NEAR(liftOffSpeed(setup).value(), still - 5.0, 1e-12);
    setup.strip.headWind = 0.0;
    const auto frontAt = [&](double speed) {
        return axleLoads(setup.chassis, roadForces(setup.chassis, 1.2, 0.0, speed, speed), 0.0).front;
    };
    EXPECT_NEAR(frontAt(still), 0.0, 1e-9);
    EXPECT_GT(frontAt(still - 0.1), 0.0);
    setup.chassis.liftAreaFront = -0.004; // downforce that outweighs the drag's lever
    EXPECT_FALSE(liftOffSpeed(setup).has_value());
}

} // namespace

} // namespace rw::testing
