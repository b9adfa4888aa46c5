// Repeated passes and waits, core/physics/README.md 9: counted anew here from the pass itself.
#include "core/plan/plan.h"

#include "core/error.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rw::testing {

namespace {

bool holds(const PlanInput& plan, const PassResult& pass) {
    return pass.completed && pass.windingPeak < plan.motor.winding_limit_C && pass.casePeak < plan.motor.limit_C &&
           pass.caseSoakPeak < plan.motor.limit_C && pass.controllerPeak < plan.controller.limit_C &&
           pass.packPeak < plan.pack.limit_C && pass.end.charge > 0.2;
}

int countedPasses(const PlanInput& plan) {
    const PassSetup setup = passSetup(plan);
    StartState state = startState(plan);
    for (int count = 0; count < 20; ++count) {
        const PassResult pass = simulatePass(setup, state);
        if (!holds(plan, pass)) return count;
        state = standFor(setup, pass.end, plan.drive.turn_around_s);
    }
    return 20;
}

bool secondHoldsAfter(const PlanInput& plan, double wait) {
    const PassSetup setup = passSetup(plan);
    const PassResult first = simulatePass(setup, startState(plan));
    return holds(plan, simulatePass(setup, standFor(setup, first.end, wait)));
}

TEST(Repeats, PassesFollowOneAnother) {
    PlanInput plan = heavyCar();
    plan.drive.passes = 3;
    const PlanResult result = simulatePlan(plan);
    ASSERT_EQ(result.passes.size(), 3U);
    const PassSetup setup = passSetup(plan);
    StartState state = startState(plan);
    for (const PassResult& pass : result.passes) {
        const PassResult again = simulatePass(setup, state);
        EXPECT_EQ(again.zoneMean, pass.zoneMean);
        EXPECT_EQ(again.end, pass.end);
        state = standFor(setup, again.end, plan.drive.turn_around_s);
    }
    EXPECT_LT(result.passes[2].end.charge, result.passes[1].end.charge);
}

TEST(Repeats, PassesUntilLimitByCounting) {
    for (PlanInput plan : samplePlans()) {
        for (const double wait : {0.0, 30.0, 600.0}) {
            plan.drive.turn_around_s = wait;
            EXPECT_EQ(simulatePlan(plan).passesUntilLimit, countedPasses(plan));
        }
    }
}

TEST(Repeats, NoPassWhereTheFirstDoesNotHold) {
    PlanInput plan = heavyCar();
    plan.motor.winding_limit_C = 40.0;
    const PlanResult result = simulatePlan(plan);
    EXPECT_EQ(result.passesUntilLimit, 0);
    EXPECT_FALSE(result.shortestWait_s.has_value());
}

TEST(Repeats, TwentyAtMost) {
    PlanInput plan = streamliner();
    plan.pack.capacity_Ah = 500.0;
    plan.drive.turn_around_s = 3000.0;
    EXPECT_EQ(simulatePlan(plan).passesUntilLimit, 20);
}

TEST(Repeats, ShortestWaitIsTheFirstWholeSecondThatHolds) {
    PlanInput plan = heavyCar();
    // A winding limit between what the second pass reaches after no wait and after a long one.
    const PassSetup setup = passSetup(plan);
    const PassResult first = simulatePass(setup, startState(plan));
    const double hot = simulatePass(setup, first.end).windingPeak;
    const double cool = simulatePass(setup, standFor(setup, first.end, 3600.0)).windingPeak;
    ASSERT_GT(hot, cool + 1.0);
    plan.motor.winding_limit_C = 0.5 * (hot + cool);
    const auto wait = simulatePlan(plan).shortestWait_s;
    ASSERT_TRUE(wait.has_value());
    EXPECT_GT(*wait, 0);
    EXPECT_TRUE(secondHoldsAfter(plan, *wait));
    EXPECT_FALSE(secondHoldsAfter(plan, *wait - 1));
}

TEST(Repeats, NoWaitIsNeededWhereNothingIsHot) { EXPECT_EQ(simulatePlan(streamliner()).shortestWait_s, 0); }

TEST(Reverse, IsTheFirstPassWithWindAndGradeTurnedRound) {
    PlanInput plan = heavyCar();
    const PlanResult result = simulatePlan(plan);
    PlanInput mirrored = plan;
    mirrored.venue.heading_deg += 180.0;
    mirrored.venue.grade = -plan.venue.grade;
    const PlanResult back = simulatePlan(mirrored);
    EXPECT_NEAR(*result.reverse.zoneMean, *back.passes.front().zoneMean, 1e-9 * *result.reverse.zoneMean);
    EXPECT_NEAR(result.reverse.stopAt, back.passes.front().stopAt, 1e-9 * result.reverse.stopAt);
    EXPECT_NEAR(*result.bothWaysMean, *back.bothWaysMean, 1e-9 * *result.bothWaysMean);
    EXPECT_DOUBLE_EQ(*result.bothWaysMean, 0.5 * (*result.passes.front().zoneMean + *result.reverse.zoneMean));
}

TEST(Reverse, NoMeanOfBothWaysWhereOneIsNotCompleted) {
    PlanInput plan = heavyCar();
    plan.motor.resistance_ohm = 1.0;
    plan.venue.grade = 0.2; // too steep upwards, well downhill the other way
    const PlanResult result = simulatePlan(plan);
    EXPECT_FALSE(result.passes.front().completed);
    EXPECT_FALSE(result.bothWaysMean.has_value());
}

TEST(Plan, AnInvalidInputIsRefused) {
    PlanInput plan = heavyCar();
    plan.vehicle.mass_kg = 0.0;
    EXPECT_THROW(static_cast<void>(simulatePlan(plan)), InputError);
    EXPECT_THROW(static_cast<void>(passSetup(plan)), InputError);
}

} // namespace

} // namespace rw::testing
