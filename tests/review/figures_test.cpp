// core/review/README.md: the figures of a pass, on courses whose figures are known in closed form.
#include "core/review/compare.h"
#include "core/units.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

// Full throttle from 10.05 s to 15 s at 20 Hz; the courses below are straight, so trapezoids are exact.
HandLog straight() {
    const auto on = [](double t) { return t > 10.01 && t < 14.99; };
    HandLog log(40.0);
    log.put(Throttle, [=](double t) { return on(t) ? 1.0 : 0.0; });
    log.put(Output, [=](double t) { return on(t) ? 1.0 : 0.0; });
    log.put(PackCurrent, [=](double t) { return on(t) ? 40.0 + 4.0 * (t - 10.0) : 0.0; });
    log.put(PackVoltage, [=](double t) { return on(t) ? 16.0 - 0.1 * (t - 10.0) : 16.6; });
    log.put(MotorSpeed, [=](double t) { return on(t) ? 300.0 * (t - 10.0) : 0.0; });
    return log;
}

double value(const LogReview& review, std::string_view key) { return figure(review.passes.at(0), key).value(); }

TEST(Figures, chargeIsTheTrapezoidInClosedForm) {
    const LogReview review = reviewLog(straight().build());
    // Samples 10.05…14.95 s hold 40 + 4 (t − 10): the straight line between, and half a step to nought at either end.
    const double inner = 4.9 * (40.2 + 59.8) / 2.0, edges = 0.05 / 2.0 * (40.2 + 59.8);
    EXPECT_NEAR(value(review, "charge_Ah"), (inner + edges) / 3600.0, 1e-12);
    EXPECT_NEAR(value(review, "mean_A"), (inner + edges) / 5.0, 1e-9);
    EXPECT_NEAR(value(review, "charge_back_Ah"), 0.0, 1e-15);
}

TEST(Figures, powerIsVoltageTimesCurrent) {
    // Common practice: electrical power is the product at each sample; here 16 − 0.1 x times 40 + 4 x rises to the last
    // sample.
    const LogReview review = reviewLog(straight().build());
    EXPECT_NEAR(value(review, "peak_W"), (16.0 - 0.1 * 4.95) * (40.0 + 4.0 * 4.95), 1e-9);
    double energy = 0.0;
    const auto power = [](double x) { return (16.0 - 0.1 * x) * (40.0 + 4.0 * x); };
    for (int i = 1; i < 99; ++i)
        energy += 0.05 / 2.0 * (power(0.05 * i) + power(0.05 * (i + 1)));
    energy += 0.05 / 2.0 * (power(0.05) + power(4.95));
    EXPECT_NEAR(value(review, "energy_Wh"), energy / 3600.0, 1e-9);
}

TEST(Figures, extremesAreSamplesAsWritten) {
    const LogReview review = reviewLog(straight().build());
    EXPECT_NEAR(value(review, "start_s"), 10.0, 1e-9);
    EXPECT_NEAR(value(review, "end_s"), 15.0, 1e-9);
    EXPECT_NEAR(value(review, "rate_Hz"), 20.0, 1e-6);
    EXPECT_NEAR(value(review, "peak_A"), 59.8, 1e-9);
    EXPECT_NEAR(value(review, "min_V"), 16.0 - 0.495, 1e-9);
    EXPECT_NEAR(value(review, "min_cell_V"), (16.0 - 0.495) / 4.0, 1e-9);
    EXPECT_NEAR(value(review, "resting_V"), 16.6, 1e-12);
    EXPECT_NEAR(value(review, "sag_V"), 16.6 - (16.0 - 0.495), 1e-9);
    EXPECT_NEAR(value(review, "motor_peak_rpm"), 300.0 * 4.95 * rpmPerRadps, 1e-6);
    EXPECT_EQ(value(review, "output_max"), 1.0);
    EXPECT_EQ(value(review, "gap_s"), 0.0);
    EXPECT_FALSE(figure(review.passes[0], "motor_peak_A"));
    EXPECT_FALSE(figure(review.passes[0], "wheel_peak_mps"));
    EXPECT_FALSE(figure(review.passes[0], "zone_speed_mps"));
}

TEST(Figures, fullOutputCountsHalfAStepAtEitherEnd) {
    // 99 samples at full output, 0.05 s apart.
    EXPECT_NEAR(value(reviewLog(straight().build()), "full_output_s"), 99 * 0.05, 1e-9);
}

TEST(Figures, fullOutputIsWhatAColumnsStepAllows) {
    HandLog log = straight();
    log.change(Output, [](double, double was) {
        return 0.99 * was;
    }); // in steps of 3 points nothing between 99 and 102 % is written
    EXPECT_NEAR(value(reviewLog(log.build()), "full_output_s"), 0.0, 1e-12);
    log.put(Output, log.of(Output), 0.03);
    EXPECT_NEAR(value(reviewLog(log.build()), "full_output_s"), 99 * 0.05, 1e-9);
}

TEST(Figures, riseIsFrom10To90PercentOfTheStep) {
    HandLog log = straight();
    // From 10 s a straight line to full in 2.2 s; the last sample under 5 % is that of 10.1 s, at 0.1/2.2 of the way.
    log.put(Throttle, [](double t) { return t >= 10.0 && t < 15.0 ? std::min(1.0, (t - 10.0) / 2.2) : 0.0; });
    EXPECT_NEAR(value(reviewLog(log.build()), "throttle_rise_s"), 0.8 * (1.0 - 0.1 / 2.2) * 2.2, 1e-9);
    // No rise crosses a gap.
    EXPECT_FALSE(figure(reviewLog(log.gap(11.0, 11.7).build()).passes.at(0), "throttle_rise_s"));
}

TEST(Figures, noIntegralCrossesAGap) {
    const LogReview review = reviewLog(straight().gap(12.0, 13.0).build());
    EXPECT_NEAR(value(review, "gap_s"), 1.0, 1e-9);
    const double whole = 4.9 * (40.2 + 59.8) / 2.0 + 0.05 / 2.0 * (40.2 + 59.8), hole = (48.0 + 52.0) / 2.0;
    EXPECT_NEAR(value(review, "charge_Ah"), (whole - hole) / 3600.0, 1e-12);
    EXPECT_NEAR(value(review, "mean_A"), (whole - hole) / 4.0, 1e-9); // over the time that is covered
    EXPECT_FALSE(findingOf(review, "sensor-fault"));                  // rows that are not there are no fault
}

TEST(Figures, aFaultySampleIsBridged) {
    HandLog log = straight();
    log.change(PackVoltage, [](double t, double was) { return std::abs(t - 12.0) < 0.01 ? -4.0 : was; });
    const LogReview review = reviewLog(log.build());
    EXPECT_NEAR(value(review, "min_V"), 16.0 - 0.495, 1e-9);
    EXPECT_TRUE(findingOf(review, "sensor-fault"));
}

TEST(Figures, chargeBackIsTheNegativePartUpToTheNextPass) {
    HandLog log = straight();
    log.change(PackCurrent,
               [](double t, double was) { return t > 15.01 && t < 16.99 ? -10.0 : was; }); // braking after the pass
    // 39 samples of −10 A, 0.05 s apart, and half a step at either end.
    const LogReview review = reviewLog(log.build());
    EXPECT_NEAR(value(review, "charge_back_Ah"), 10.0 * 39 * 0.05 / 3600.0, 1e-12);
}

TEST(Figures, rpmPerVoltIsTheMedianAtFullOutput) {
    HandLog log = straight();
    log.put(MotorSpeed, [](double t) { return t > 10.01 && t < 14.99 ? (16.0 - 0.1 * (t - 10.0)) * 250.0 : 0.0; });
    EXPECT_NEAR(value(reviewLog(log.build()), "rpm_per_volt"), 250.0 * rpmPerRadps, 1e-9);
}

TEST(Figures, soakIsTheLargestUntilTheNextPassOrTheEnd) {
    HandLog log = straight();
    // Rises 2 K/s in the pass, 1 K/s for 4 s after it, then falls 0.25 K/s.
    log.put(MotorTemperature, [](double t) {
        const double pass = std::clamp(t - 10.0, 0.0, 5.0) * 2.0, soak = std::clamp(t - 15.0, 0.0, 4.0),
                     fall = std::max(0.0, t - 19.0) * 0.25;
        return 300.0 + pass + soak - fall;
    });
    const LogReview review = reviewLog(log.build());
    EXPECT_NEAR(value(review, "motor_start_C"), celsiusFromKelvin(300.0), 1e-9);
    EXPECT_NEAR(value(review, "motor_max_C"), celsiusFromKelvin(310.0), 1e-9);
    EXPECT_NEAR(value(review, "motor_rise_C"), 10.0, 1e-9);
    EXPECT_NEAR(value(review, "motor_soak_C"), celsiusFromKelvin(314.0), 1e-9);
    EXPECT_NEAR(value(review, "motor_soak_after_s"), 4.0, 1e-9);
    EXPECT_TRUE(review.passes[0].motor.soakComplete);
    EXPECT_FALSE(figure(review.passes[0], "motor_soak_predicted_C"));
}

// Whole degrees flicker: a fall of one of them is none.
TEST(Figures, soakIsCompleteAfterHalfADegreeAndMoreThanOneStep) {
    const auto complete = [](double step, double fall) {
        HandLog log = goodPass();
        log.put(
            MotorTemperature,
            [=](double t) { return 300.0 + std::clamp(t - opens, 0.0, 20.0) - (t > 60.0 ? fall : 0.0); }, step);
        return reviewLog(log.build()).passes.at(0).motor.soakComplete;
    };
    EXPECT_FALSE(complete(0.1, 0.4));
    EXPECT_TRUE(complete(0.1, 0.6));
    EXPECT_FALSE(complete(1.0, 1.0));
    EXPECT_TRUE(complete(1.0, 2.0));
}

// A straight line shows no peak: whatever was foretold from it would be made up.
TEST(Figures, soakIsNotForetoldFromAStraightRise) {
    HandLog log = straight();
    log.put(
        MotorTemperature, [](double t) { return 300.0 + std::max(0.0, t - 10.0); }, 0.1);
    log.lasts(25.0);
    EXPECT_FALSE(figure(reviewLog(log.build()).passes[0], "motor_soak_predicted_C"));
}

TEST(Figures, soakIsPredictedByTwoNodesWhereTheLogEndsTooEarly) {
    // Closed form: T = 295 + 60 exp(−t/400) − 40 exp(−t/20) from the pass's end peaks at t = ln(40·400/(60·20))/(1/20 −
    // 1/400).
    const auto course = [](double s) { return 295.0 + 60.0 * std::exp(-s / 400.0) - 40.0 * std::exp(-s / 20.0); };
    HandLog log = straight();
    log.put(MotorTemperature,
            [=](double t) {
                return t < 10.0 ? 295.0 : t < 15.0 ? 295.0 + 4.0 * (t - 10.0) : course(t - 15.0) + wobble(t, 0.02);
            })
        .lasts(45.0);
    const LogReview review = reviewLog(log.build());
    const double at = std::log(40.0 * 400.0 / (60.0 * 20.0)) / (1.0 / 20.0 - 1.0 / 400.0);
    ASSERT_GT(at, 30.0);
    EXPECT_FALSE(review.passes[0].motor.soakComplete);
    ASSERT_TRUE(review.passes[0].motor.soakPredicted);
    EXPECT_NEAR(*review.passes[0].motor.soakPredicted, course(at), 1.5);
    EXPECT_LT(*review.passes[0].motor.soakPredictedError, 5.0);
}

TEST(Figures, packResistanceComesOutOfALinearPack) {
    // Closed form: U = 16.7 − 0.02 I − 0.0004 q holds for every sample, so the regression is exact.
    HandLog log = straight();
    const auto current = [](double t) {
        return t > 10.01 && t < 14.99 ? 60.0 + 35.0 * std::sin(2.0 * (t - 10.0)) : 0.0;
    };
    double charge = 0.0, before = 0.0;
    std::vector<double> volts;
    for (int i = 0; i <= 800; ++i) {
        const double now = current(0.05 * i);
        charge += i > 0 ? 0.05 * (now + before) / 2.0 : 0.0;
        before = now;
        volts.push_back(16.7 - 0.02 * now - 0.0004 * charge);
    }
    log.put(PackCurrent, current);
    log.put(PackVoltage, [=](double t) { return volts.at(static_cast<std::size_t>(std::llround(t * 20.0))); });
    const LogReview review = reviewLog(log.build());
    EXPECT_NEAR(value(review, "pack_ohm"), 0.02, 1e-9);
    EXPECT_LT(value(review, "pack_ohm_se"), 1e-9);
    // A current that hardly moves tells nothing.
    log.put(PackCurrent, [](double t) { return t > 10.01 && t < 14.99 ? 60.0 : 59.0; }).drop(Throttle).drop(Output);
    log.put(Throttle, [](double t) { return t > 10.01 && t < 14.99 ? 1.0 : 0.0; });
    EXPECT_FALSE(figure(reviewLog(log.build()).passes.at(0), "pack_ohm"));
}

TEST(Figures, zoneSpeedAndDistanceComeFromMeasuredSpeed) {
    HandLog log = straight();
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->venue.run_up_m = 20.0;
    options.plan->venue.timed_m = 30.0;
    // 20 m/s throughout: 20 m after 1 s, 50 m after 2.5 s.
    log.put(Speed, [](double) { return 20.0; });
    const LogReview review = reviewLog(log.build(), options);
    EXPECT_NEAR(value(review, "distance_m"), 100.0, 1e-9);
    EXPECT_NEAR(value(review, "zone_speed_mps"), 20.0, 1e-9);
    EXPECT_NEAR(value(review, "speed_peak_mps"), 20.0, 1e-12);
    // Wheels: motor speed over the gearing times the radius, 4 turns a wheel turn, 30 mm.
    EXPECT_NEAR(value(review, "wheel_peak_mps"), 300.0 * 4.95 / 4.0 * 0.03, 1e-9);
}

TEST(Compare, laysPassesFromTheThrottlesStart) {
    HandLog log = straight();
    log.put(Speed, [](double) { return 20.0; });
    const Log built = log.build();
    const LogReview review = reviewLog(built);
    const PassTrace trace = passTrace(built, review, {}, 0, PackCurrent);
    ASSERT_EQ(trace.time.size(), 101U);
    EXPECT_NEAR(trace.time[50], 2.5, 1e-9);
    EXPECT_NEAR(trace.distance[50], 50.0, 1e-9); // 20 m/s for 2.5 s
    EXPECT_NEAR(trace.value[50], 50.0, 1e-9);
    const PassTrace planned = planTrace(handPlan(), Speed);
    EXPECT_GT(*std::max_element(planned.value.begin(), planned.value.end()), 10.0);
    EXPECT_TRUE(planTrace(handPlan(), ReceiverVoltage).time.empty());
}

} // namespace
// By definition: the hottest counts the soak and what is foretold of it; the best speed is the one that counts most.
TEST(PassFigures, hottestAndBestSpeedAreSaidOnce) {
    ReviewPass pass;
    EXPECT_FALSE(hottest(pass.motor) || bestSpeed(pass));
    pass.motor.max = 340.0;
    EXPECT_EQ(hottest(pass.motor), 340.0);
    pass.motor.soak = 344.0, pass.motor.soakPredicted = 352.0;
    EXPECT_EQ(hottest(pass.motor), 352.0);
    pass.wheelPeak = 31.0;
    EXPECT_EQ(bestSpeed(pass), 31.0);
    pass.speedPeak = 30.0;
    EXPECT_EQ(bestSpeed(pass), 30.0);
    pass.zoneSpeed = 29.0;
    EXPECT_EQ(bestSpeed(pass), 29.0);
}

} // namespace rw
