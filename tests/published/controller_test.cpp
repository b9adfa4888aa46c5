// Ripple and the electrical solution at one instant against worked examples.
#include "core/physics/controller.h"

#include "core/physics/motor.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

rw::Controller bridge(double frequency, double capacitance, double esr) {
    rw::Controller controller;
    controller.pwmFrequency = frequency;
    controller.inputCapacitance = capacitance;
    controller.inputEsr = esr;
    return controller;
}

TEST(Ripple, agreesWithTheWorkedExampleOfSLTA055) {
    // Texas Instruments SLTA055, Input and Output Capacitor Selection (2006), section 1.3: 10 A, D 0.3, 333 kHz.
    // 18 µF: 350 mV peak to peak; 84 µF: 75 mV.
    EXPECT_NEAR(rw::rippleVoltage(bridge(333e3, 18e-6, 0.0), 10.0, 0.3), 0.350, 5e-4);
    EXPECT_NEAR(rw::rippleVoltage(bridge(333e3, 84e-6, 0.0), 10.0, 0.3), 0.075, 5e-4);
    // Least capacitance for 75 mV: 84 µF, I D (1 − D)/(f ΔU).
    EXPECT_NEAR(rw::rippleVoltage(bridge(333e3, 1e-6, 0.0), 10.0, 0.3) / 0.075, 84.0, 0.5);
}

TEST(Ripple, atHalfDutyIsAQuarterOfTheCurrentOverTheCharge) {
    // Texas Instruments TPS54623 data sheet: 0.25 I/(C f), 6 A, 14.7 µF, 480 kHz: 213 mV.
    EXPECT_NEAR(rw::rippleVoltage(bridge(480e3, 14.7e-6, 0.0), 6.0, 0.5), 0.213, 5e-4);
}

TEST(Ripple, addsTheStepOverTheSeriesResistance) {
    // 200 A, d 0.5, 24 kHz, 2 mF, 2 mΩ: 1.041667 + 0.4 V by hand.
    EXPECT_NEAR(rw::rippleVoltage(bridge(24e3, 2e-3, 2e-3), 200.0, 0.5), 1.4416667, 1e-6);
}

// d 0.6, E 24.8 V, K_v 1750, 2500 rad/s, R_m 5, R_c 2, R_0 8 mΩ: the linear circuit solved by hand.
constexpr rw::Circuit instant{24.8, 0.008, 0.007};

double backEmf() {
    rw::Motor motor;
    motor.kv_rpmPerVolt = 1750.0;
    return motor.constant(20.0) * 2500.0;
}

TEST(Circuit, atOneInstantSolvesKirchhoffsLaws) {
    const double current = rw::motorCurrent(instant, 0.6, backEmf());
    EXPECT_NEAR(current, 125.318597, 1.3e-6);
    EXPECT_NEAR(0.6 * current, 75.191158, 1e-6);
    const double terminal = 24.8 - 0.6 * current * 0.008;
    EXPECT_NEAR(terminal, 24.198470736, 1e-8);
    EXPECT_NEAR(current * 0.007 + backEmf(), 0.6 * terminal, 1e-12);
}

TEST(Circuit, dutiesOfLimitsReturnTheCurrentThatTheyAllow) {
    // Each limit's duty put back into the circuit, within rounding.
    for (const double wanted : {10.0, 60.0, 125.0, 300.0}) {
        const double duty = rw::dutyForMotorCurrent(instant, wanted, backEmf());
        EXPECT_NEAR(rw::motorCurrent(instant, duty, backEmf()), wanted, 1e-9 * wanted);
        const double packDuty = rw::dutyForPackCurrent(instant, wanted, backEmf());
        EXPECT_NEAR(packDuty * rw::motorCurrent(instant, packDuty, backEmf()), wanted, 1e-9 * wanted);
    }
    // Nothing to draw: the duty of no current.
    EXPECT_NEAR(rw::motorCurrent(instant, rw::dutyForPackCurrent(instant, 0.0, backEmf()), backEmf()), 0.0, 1e-12);
}

TEST(Circuit, takesTheSmallerDutyAndKnowsWhereThereIsNone) {
    // Where the pack resists more than the loop, the most motor current is at d = sqrt(R/R_0) when standing: E/(2
    // sqrt(R R_0)).
    const rw::Circuit weak{10.0, 0.1, 0.025};
    const double most = 10.0 / (2.0 * std::sqrt(0.1 * 0.025));
    EXPECT_GT(rw::foldMargin(weak, most * (1.0 - 1e-9), 0.0), 0.0);
    EXPECT_LT(rw::foldMargin(weak, most * (1.0 + 1e-9), 0.0), 0.0);
    EXPECT_LT(rw::dutyForMotorCurrent(weak, 0.9 * most, 0.0), 0.5);
    EXPECT_NEAR(rw::motorCurrent(weak, 0.5, 0.0), most, 1e-12);
}

} // namespace
