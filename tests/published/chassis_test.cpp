// Drag, rolling resistance and axle loads against printed examples.
#include "core/physics/chassis.h"

#include "core/units.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

rw::Chassis body(double mass, double dragArea) {
    rw::Chassis chassis;
    chassis.mass = mass;
    chassis.wheelbase = 1.0;
    chassis.cgBehindFront = 0.5;
    chassis.dragArea = dragArea;
    return chassis;
}

double drag(double dragArea, double density, double airSpeed) {
    return rw::roadForces(body(1.0, dragArea), density, 0.0, airSpeed, 0.0).drag;
}

TEST(Drag, balancesTheWeightAtThePrintedTerminalSpeeds) {
    // OpenStax, College Physics, 5.2 Drag Forces: text, Example 5.2, problems with printed answers; g = 9.80, ρ = 1.21.
    struct Row {
        double mass, dragArea, printed, half;
    };
    const Row rows[] = {{75.0, 0.70 * 0.18, 98.0, 0.5},
                        {85.0, 1.0 * 0.70, 44.0, 0.5},
                        {80.0, 0.70 * 0.140, 115.0, 0.5},
                        {0.56, 1.0 * 144e-4, 25.1, 0.05}};
    for (const Row& row : rows) {
        EXPECT_LT(drag(row.dragArea, 1.21, row.printed - row.half), row.mass * 9.80);
        EXPECT_GT(drag(row.dragArea, 1.21, row.printed + row.half), row.mass * 9.80);
    }
}

TEST(Drag, growsWithTheSquareOfSpeed) {
    // OpenStax, College Physics, 5.2: from 65 to 110 km/h by a factor of 2.9.
    EXPECT_NEAR(drag(0.7, 1.21, 110.0 / 3.6) / drag(0.7, 1.21, 65.0 / 3.6), 2.9, 0.05);
    // The same chapter's problem, 0.70 m² at 70 and 100 km/h; values by hand, 1e-6.
    EXPECT_NEAR(drag(0.70, 1.21, 70.0 / 3.6), 160.1196, 1.6e-4);
    EXPECT_NEAR(drag(0.70, 1.21, 100.0 / 3.6), 326.7747, 3.3e-4);
    // A national engineering examination's car: C_d 0.30, 2.6 m², ρ 1.2, 120 km/h: 520 N.
    EXPECT_NEAR(drag(0.30 * 2.6, 1.2, 120.0 / 3.6), 520.0, 5e-4);
}

TEST(Drag, isSignedByTheAirNotByTheGround) {
    // ½ρC_dA = 0.018 kg/m; speed 30 with wind ±5 m/s, speed 3 with a tail wind of 5 m/s, which pushes.
    const double area = 0.018 * 2.0 / 1.2;
    EXPECT_NEAR(drag(area, 1.2, 35.0), 22.05, 1e-12);
    EXPECT_NEAR(drag(area, 1.2, 25.0), 11.25, 1e-12);
    EXPECT_NEAR(drag(area, 1.2, -2.0), -0.072, 1e-12);
}

TEST(RoadLoad, ofACarMatchesAThermodynamicsTextbook) {
    // Moran, Shapiro, Fundamentals of Engineering Thermodynamics, 8th ed., problem 2.23 (inputs; values by hand, 1e-5):
    // 3040 lbf, A 6.24 ft², C_d 0.25, f 0.02, 0.08 lb/ft³, 55 mi/h.
    constexpr double poundForce = rw::kilogramPerPound * rw::standardGravity;
    constexpr double foot = 0.3048;
    rw::Chassis car = body(3040.0 * rw::kilogramPerPound, 0.25 * 6.24 * foot * foot);
    car.rolling0 = 0.02;
    const double speed = 55.0 / rw::mphPerMps;
    const rw::RoadForces f = rw::roadForces(car, 0.08 * rw::kilogramPerPound / (foot * foot * foot), 0.0, speed, speed);
    EXPECT_NEAR(f.rolling, 0.02 * 3040.0 * poundForce, 1e-9);
    EXPECT_NEAR(f.rolling, 270.4519, 2.7e-3);
    EXPECT_NEAR(f.drag, 56.1376, 5.6e-4);
    EXPECT_NEAR((f.rolling + f.drag) * speed, 8029.92, 0.08);
}

TEST(RollingResistance, isTheLoadTimesItsCoefficient) {
    // F = c N, c = 0.015 (car tyre on asphalt: common practice), 1500 kg: 220.6496 N.
    rw::Chassis car = body(1500.0, 0.0);
    car.rolling0 = 0.015;
    EXPECT_NEAR(rw::roadForces(car, 0.0, 0.0, 0.0, 10.0).rolling, 220.6496, 1e-4);
    // Quadratic part: c = 0.015 + 1e-5·400 at 20 m/s.
    car.rolling2 = 1e-5;
    EXPECT_NEAR(rw::roadForces(car, 0.0, 0.0, 0.0, 20.0).rolling, 1500.0 * 9.80665 * 0.019, 1e-9);
}

TEST(AxleLoads, balanceForcesAndMoments) {
    // Statics of a rigid body on two supports, moments about the rear contact, with drag, lift, slope and acceleration
    // at once.
    rw::Chassis car = body(4.0, 0.02);
    car.wheelbase = 0.32;
    car.cgBehindFront = 0.15;
    car.cgHeight = 0.04;
    car.dragHeight = 0.05;
    car.liftAreaFront = 0.002;
    car.liftAreaRear = -0.006;
    const double grade = 0.03;
    const double angle = std::atan(grade);
    const double acceleration = 6.0;
    const rw::RoadForces f = rw::roadForces(car, 1.2, grade, 40.0, 38.0);
    const rw::AxleLoads loads = rw::axleLoads(car, f, acceleration);
    const double pressure = 0.5 * 1.2 * 40.0 * 40.0;
    EXPECT_NEAR(loads.front + loads.rear, 4.0 * 9.80665 * std::cos(angle) - pressure * (0.002 - 0.006), 1e-12);
    const double aboutRear = 4.0 * 9.80665 * std::cos(angle) * (0.32 - 0.15) - 4.0 * 9.80665 * std::sin(angle) * 0.04 -
                             pressure * 0.02 * 0.05 - pressure * 0.002 * 0.32 - loads.front * 0.32;
    EXPECT_NEAR(aboutRear, 4.0 * acceleration * 0.04, 1e-12);
}

TEST(AxleLoads, neverPullOnTheGround) {
    rw::Chassis car = body(4.0, 0.0);
    car.cgHeight = 0.5;
    const rw::RoadForces level = rw::roadForces(car, 1.2, 0.0, 0.0, 0.0);
    const double weight = 4.0 * 9.80665;
    const rw::AxleLoads wheelie = rw::axleLoads(car, level, 100.0);
    EXPECT_EQ(wheelie.front, 0.0);
    EXPECT_NEAR(wheelie.rear, weight, 1e-12);
    const rw::AxleLoads stoppie = rw::axleLoads(car, level, -100.0);
    EXPECT_EQ(stoppie.rear, 0.0);
    EXPECT_NEAR(stoppie.front, weight, 1e-12);
    car.liftAreaFront = car.liftAreaRear = 1.0;
    EXPECT_EQ(rw::axleLoads(car, rw::roadForces(car, 1.2, 0.0, 60.0, 60.0), 0.0).total(), 0.0);
}

} // namespace
