// Margins against hand arithmetic of the rules in the design: share of what is allowed that is left.
#include "core/plan/limits.h"
#include "core/plan/plan.h"

#include "core/units.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rw::testing {

namespace {

// A pass that breaks nothing, with round numbers.
PassResult calmPass() {
    PassResult pass;
    pass.completed = true;
    pass.windingPeak = 80.0, pass.casePeak = 50.0, pass.caseSoakPeak = 60.0;
    pass.controllerPeak = 50.0, pass.packPeak = 35.0;
    pass.peakPackCurrent = 120.0, pass.peakMotorCurrent = 180.0;
    pass.peakMotorSpeed = 40000.0 * radpsPerRpm, pass.peakWheelSpeed = 1200.0;
    pass.minCellVoltage = 3.6, pass.minFrontLoadRatio = 0.575, pass.stopAt = 200.0;
    return pass;
}

PlanInput roundPlan() {
    PlanInput plan = lightCar();
    plan.air.temperature_C = 20.0;
    plan.venue.length_m = 250.0;
    plan.motor.winding_limit_C = 140.0, plan.motor.comfort_C = 80.0, plan.motor.limit_C = 100.0;
    plan.motor.max_speed_rpm = 50000.0, plan.motor.poles = 4;
    plan.controller.comfort_C = 80.0, plan.controller.limit_C = 100.0;
    plan.controller.continuous_A = 150.0, plan.controller.burst_A = 240.0,
    plan.controller.max_electrical_rpm = 100000.0;
    plan.pack.capacity_Ah = 5.0, plan.pack.continuous_c_rate = 30.0, plan.pack.burst_c_rate = 60.0;
    plan.pack.comfort_C = 50.0, plan.pack.limit_C = 60.0;
    plan.tyre.max_speed_radps = 1600.0;
    return plan;
}

Margin marginOf(const std::vector<Margin>& all, std::string_view limit) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Margin& m) { return m.limit == limit; });
    EXPECT_NE(found, all.end()) << limit;
    return found == all.end() ? Margin{} : *found;
}

void expectMargin(const std::vector<Margin>& all, std::string_view limit, double value, double allowed, double margin) {
    const Margin found = marginOf(all, limit);
    EXPECT_NEAR(found.value, value, 1e-9 * std::abs(value)) << limit;
    EXPECT_DOUBLE_EQ(found.allowed, allowed) << limit;
    EXPECT_NEAR(found.margin, margin, 1e-12) << limit;
}

TEST(Margins, EveryLimitByHand) {
    const auto all = margins(roundPlan(), {calmPass()});
    ASSERT_EQ(all.size(), limitTable().size());
    expectMargin(all, "winding_limit", 80.0, 140.0, 1.0 - 60.0 / 120.0);
    expectMargin(all, "case_comfort", 60.0, 80.0, 1.0 - 40.0 / 60.0); // soak counted
    expectMargin(all, "case_limit", 60.0, 100.0, 1.0 - 40.0 / 80.0);
    expectMargin(all, "controller_comfort", 50.0, 80.0, 1.0 - 30.0 / 60.0);
    expectMargin(all, "controller_limit", 50.0, 100.0, 1.0 - 30.0 / 80.0);
    expectMargin(all, "pack_comfort", 35.0, 50.0, 1.0 - 15.0 / 30.0);
    expectMargin(all, "pack_limit", 35.0, 60.0, 1.0 - 15.0 / 40.0);
    expectMargin(all, "pack_continuous", 120.0, 150.0, 1.0 - 120.0 / 150.0);
    expectMargin(all, "pack_burst", 120.0, 300.0, 1.0 - 120.0 / 300.0);
    expectMargin(all, "controller_continuous", 180.0, 150.0, -0.2);
    expectMargin(all, "controller_burst", 180.0, 240.0, 0.25);
    expectMargin(all, "motor_speed", 40000.0, 50000.0, 0.2);
    expectMargin(all, "electrical_speed", 80000.0, 100000.0, 0.2);
    expectMargin(all, "tyre_speed", 1200.0, 1600.0, 0.25);
    expectMargin(all, "cell_voltage", 3.6, 3.2, 0.4);
    expectMargin(all, "front_load", 0.575, 0.15, 0.5);
    expectMargin(all, "strip", 200.0, 250.0, 0.2);
}

TEST(Margins, TightestFirstAndTheWorstOfAllPasses) {
    PassResult hotter = calmPass();
    hotter.windingPeak = 138.0, hotter.stopAt = 150.0;
    const auto all = margins(roundPlan(), {calmPass(), hotter});
    EXPECT_TRUE(
        std::is_sorted(all.begin(), all.end(), [](const Margin& a, const Margin& b) { return a.margin < b.margin; }));
    EXPECT_EQ(all.front().limit, "controller_continuous");
    expectMargin(all, "winding_limit", 138.0, 140.0, 1.0 - 118.0 / 120.0);
    expectMargin(all, "strip", 200.0, 250.0, 0.2);
}

TEST(Margins, ALimitThatIsNullIsLeftOut) {
    PlanInput plan = roundPlan();
    plan.tyre.max_speed_radps.reset();
    plan.motor.max_speed_rpm.reset();
    plan.controller.continuous_A.reset();
    plan.pack.continuous_c_rate.reset();
    for (const Margin& margin : margins(plan, {calmPass()})) {
        EXPECT_NE(margin.limit, "tyre_speed");
        EXPECT_NE(margin.limit, "motor_speed");
        EXPECT_NE(margin.limit, "controller_continuous");
        EXPECT_NE(margin.limit, "pack_continuous");
    }
}

TEST(Margins, BurstRateDefaultsToTheContinuousRate) {
    PlanInput plan = roundPlan();
    plan.pack.burst_c_rate.reset();
    expectMargin(margins(plan, {calmPass()}), "pack_burst", 120.0, 150.0, 0.2);
}

TEST(Margins, TemperatureLimitsUnderTheAir) {
    PlanInput plan = roundPlan();
    plan.air.temperature_C = 50.0;
    plan.pack.comfort_C = 50.0;
    PassResult pass = calmPass(); // pack at 35 °C: not over its limit
    const auto names = [&] {
        std::vector<std::string_view> out;
        for (const Margin& margin : margins(plan, {pass}))
            out.push_back(margin.limit);
        return out;
    };
    auto present = names();
    EXPECT_EQ(std::count(present.begin(), present.end(), "pack_comfort"), 0);
    pass.packPeak = 51.0;
    EXPECT_EQ(marginOf(margins(plan, {pass}), "pack_comfort").margin, -1.0);
}

TEST(Margins, NothingAllowedIsBrokenByAnything) {
    PlanInput plan = roundPlan();
    plan.controller.burst_A = 0.0;
    EXPECT_EQ(marginOf(margins(plan, {calmPass()}), "controller_burst").margin, -1.0);
}

TEST(Margins, ACurrentHeldAtItsLimitIsNotBroken) {
    PlanInput plan = heavyCar();
    plan.controller.pack_current_limit_A = 200.0;
    plan.pack.capacity_Ah = 5.0;
    plan.pack.continuous_c_rate = 40.0;
    EXPECT_EQ(marginOf(simulatePlan(plan).margins, "pack_continuous").margin, 0.0);
}

} // namespace

} // namespace rw::testing
