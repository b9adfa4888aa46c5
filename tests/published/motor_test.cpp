// Motor against SI identities, textbook optima and material data.
#include "core/physics/motor.h"

#include "core/units.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace {

rw::Motor motor(double kv, double resistance, double noLoad) {
    rw::Motor m;
    m.kv_rpmPerVolt = kv;
    m.resistance20 = resistance;
    m.noLoad = {noLoad, 0.0, 1.0};
    return m;
}

TEST(MotorConstant, timesKvIsTheNumberOfRpmInARadianASecond) {
    // Identity of SI units: K_t K_v = 60/(2π).
    EXPECT_NEAR(motor(1750.0, 0.005, 5.0).constant(20.0) * 1750.0, 9.5492965855, 1e-10);
}

TEST(Copper, followsIec60028) {
    // IEC 60028, annealed copper: 0.00393 1/K at 20 °C (value seen in two references; the standard itself from memory).
    const rw::Motor m = motor(1000.0, 1.0, 0.0);
    const double rows[][2] = {{0.0, 0.9214},   {20.0, 1.0},     {25.0, 1.01965}, {80.0, 1.2358},
                              {100.0, 1.3144}, {120.0, 1.3930}, {150.0, 1.5109}};
    for (const auto& row : rows)
        EXPECT_NEAR(m.resistance(row[0]), row[1], 1e-12) << row[0];
    // A published correction table of North American standards (k = 234.5) prints 25 → 100 °C as 1.289, 25 → 150 °C
    // as 1.482.
    EXPECT_NEAR(m.resistance(100.0) / m.resistance(25.0), 1.289, 5e-4);
    EXPECT_NEAR(m.resistance(150.0) / m.resistance(25.0), 1.482, 5e-4);
}

TEST(Copper, temperatureRiseByResistanceAgreesWithIec60034) {
    // IEC 60034-1, (R2/R1)(k + t1) − k with k = 235; worked example of an ohmmeter's manual: 200 mΩ at 20 °C, 210 mΩ
    // hot: 32.75 °C. Our k is 1/0.00393 − 20 = 234.45, so the same readings mean (R2/R1 − 1)(235 − 234.45) less.
    const rw::Motor m = motor(1000.0, 0.200, 0.0);
    const double k = 1.0 / rw::copperCoefficient - 20.0;
    EXPECT_NEAR(k, 234.45, 0.005); // the same manual
    EXPECT_NEAR(m.resistance(32.75 - 0.05 * (235.0 - k)), 0.210, 0.200 * rw::copperCoefficient * 0.005);
}

TEST(Magnets, loseFluxAsTheMakersExampleSays) {
    // Sintered NdFeB, maker's worked example: 13.82 kG at 20 °C, 11.69 kG at 150 °C, that is −0.119 %/K.
    rw::Motor m = motor(1750.0, 0.005, 5.0);
    m.magnetCoefficient = (11.69 / 13.82 - 1.0) / 130.0;
    EXPECT_NEAR(m.magnetCoefficient, -0.00119, 5e-6);
    EXPECT_NEAR(m.constant(150.0) / m.constant(20.0), 11.69 / 13.82, 1e-12);
}

TEST(Magnets, hotMotorsTurnFasterPerVolt) {
    // K_v 1750 at 20 °C, −0.0011 1/K, 100 °C: k 0.004976547706, K_v 1918.859650, by hand, 1e-9.
    rw::Motor m = motor(1750.0, 0.005, 5.0);
    m.magnetCoefficient = -0.0011;
    EXPECT_NEAR(m.constant(100.0), 0.004976547706, 5e-13);
    EXPECT_NEAR(rw::rpmPerRadps / m.constant(100.0), 1918.859650, 2e-6);
}

TEST(Timing, leavesTheComponentInPhase) {
    // Only the component of the flux linkage in phase counts: cos 60° = 1/2.
    rw::Motor m = motor(1750.0, 0.005, 5.0);
    const double straight = m.constant(20.0);
    m.timing = std::numbers::pi / 3.0;
    EXPECT_NEAR(m.constant(20.0), straight / 2.0, 1e-15);
}

TEST(NoLoadCurrent, returnsTheTestsCurrentAtTheTestsSpeed) {
    // One no-load test: the motor turns at about K_v V and takes I_test; half is constant (common practice).
    const rw::NoLoadCurrent noLoad = rw::noLoadFromTest(4.0, 10.0, 2000.0);
    EXPECT_NEAR(noLoad.at(20000.0 * rw::radpsPerRpm), 4.0, 1e-12);
    EXPECT_NEAR(noLoad.at(-20000.0 * rw::radpsPerRpm), 4.0, 1e-12);
    EXPECT_NEAR(noLoad.at(0.0), 2.0, 1e-15);
}

} // namespace
