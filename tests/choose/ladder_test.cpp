// Every step of a ladder planned by itself, and the smallest change found by brute force.
#include "core/choose/ladder.h"

#include "core/choose/changed_plan.h"
#include "core/error.h"
#include "core/plan/spread.h"
#include "tests/plan/sample_plans.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

using ::testing::HasSubstr;

PlanInput climber() {
    PlanInput plan = lightCar();
    plan.vehicle.mesh_min_m = 0.0, plan.vehicle.mesh_max_m = 1.0;
    plan.gears.pinions = {8, 9, 10, 11, 12, 13, 14, 16}, plan.gears.spurs = {50};
    plan.gears.pinion_teeth = 8, plan.gears.spur_teeth = 50;
    plan.motor.comfort_C = 120.0, plan.motor.limit_C = 140.0, plan.controller.comfort_C = 110.0;
    plan.drive.passes = 1;
    return plan;
}

bool holds(const PlanInput& plan, double speed) {
    const PassResult pass = simulatePass(passSetup(plan), startState(plan));
    return pass.completed && margins(plan, {pass}).front().margin >= 0.0 && *pass.zoneMean >= speed;
}

double ratioOf(const PlanInput& plan) {
    return plan.vehicle.internal_ratio * plan.gears.spur_teeth / plan.gears.pinion_teeth;
}

// In the order of the contract: own cells with the pair nearest in ratio, then a cell more, …
std::optional<PlanInput> smallestChange(const PlanInput& before, double speed) {
    for (int cells = before.pack.series; cells <= 12; ++cells) {
        std::optional<PlanInput> best;
        for (const int pinion : before.gears.pinions) {
            PlanInput plan = withCells(before, cells);
            plan.gears.pinion_teeth = pinion;
            const bool nearer =
                !best || std::abs(ratioOf(plan) - ratioOf(before)) < std::abs(ratioOf(*best) - ratioOf(before));
            if (nearer && holds(plan, speed)) best = plan;
        }
        if (best) return best;
    }
    return std::nullopt;
}

TEST(LadderOfSteps, EveryStepIsTheSmallestChangeThatHolds) {
    const PlanInput start = climber();
    const double now = *simulatePass(passSetup(start), startState(start)).zoneMean;
    const Ladder ladder = climbLadder(start, 0.9 * now, 1.5 * now, {.step = 0.15, .runs = 20, .work = {}});
    ASSERT_GE(ladder.steps.size(), 2U);
    PlanInput before = start;
    double speed = 0.9 * now;
    for (const LadderStep& step : ladder.steps) {
        SCOPED_TRACE(step.speed);
        EXPECT_GT(step.speed, speed);
        EXPECT_TRUE(holds(step.plan, step.speed));
        const auto smallest = smallestChange(before, step.speed);
        ASSERT_TRUE(smallest);
        EXPECT_EQ(step.plan.gears.pinion_teeth, smallest->gears.pinion_teeth);
        EXPECT_EQ(step.plan.pack.series, smallest->pack.series);
        EXPECT_EQ(step.plan.drive.target_mps, step.speed);
        EXPECT_FALSE(step.set.empty());
        before = step.plan, speed = step.speed;
    }
    EXPECT_TRUE(ladder.blocked || std::abs(ladder.steps.back().speed - 1.5 * now) < 1e-12 * now);
}

TEST(LadderOfSteps, FiguresAndConditionsComeFromTheStepsOwnSpread) {
    const PlanInput start = climber();
    const double now = *simulatePass(passSetup(start), startState(start)).zoneMean;
    const Ladder ladder = climbLadder(start, now, 1.1 * now, {.step = 0.15, .runs = 100, .work = {}});
    ASSERT_EQ(ladder.steps.size(), 1U);
    const LadderStep& step = ladder.steps.front();
    const SpreadResult spread = spreadPlan(step.plan, {100, 1, {}});
    for (const LadderFigure& figure : step.expect) {
        const auto same = std::find_if(spread.figures.begin(), spread.figures.end(),
                                       [&](auto& f) { return f.name == figure.figure; });
        EXPECT_EQ(figure.p05, same->p05);
        EXPECT_EQ(figure.p95, same->p95);
    }
    EXPECT_EQ(step.targetProbability, spread.targetProbability);
    const auto band = [&](std::string_view name) {
        return *std::find_if(step.expect.begin(), step.expect.end(), [&](auto& f) { return f.figure == name; });
    };
    const auto condition = [](const auto& list, std::string_view name) {
        return *std::find_if(list.begin(), list.end(), [&](auto& c) { return c.figure == name; });
    };
    EXPECT_EQ(step.goOnIf.size(), 5U);
    EXPECT_EQ(condition(step.goOnIf, "case_soak_peak_C").value, band("case_soak_peak_C").p95);
    EXPECT_EQ(condition(step.goOnIf, "min_cell_V").value, band("min_cell_V").p05);
    EXPECT_FALSE(condition(step.goOnIf, "min_cell_V").atMost);
    const double strip = condition(step.stopIf, "stop_at_m").value;
    EXPECT_DOUBLE_EQ(strip, 0.5 * (band("stop_at_m").p95 + step.plan.venue.length_m)); // half of what is left is gone
    const auto wait = simulatePlan(step.plan).shortestWait_s;
    ASSERT_EQ(step.wait_s.has_value(), wait.has_value());
    EXPECT_DOUBLE_EQ(step.wait_s.value_or(0.0), 1.2 * wait.value_or(0));
}

TEST(LadderOfSteps, EndsWithTheNearestTryWhereNothingHolds) {
    const PlanInput start = climber();
    const Ladder ladder = climbLadder(start, 20.0, 300.0, {.step = 1.0, .runs = 5, .work = {}});
    ASSERT_TRUE(ladder.blocked);
    EXPECT_LT(ladder.blocked->margin, 0.0);
    EXPECT_FALSE(ladder.blocked->limit.empty());
    EXPECT_LE(ladder.blocked->speed, 300.0);
}

TEST(LadderOfSteps, ASetupThatMakesTheTargetIsOneStepAsItIs) {
    const PlanInput start = climber();
    const double now = *simulatePass(passSetup(start), startState(start)).zoneMean;
    const Ladder ladder = climbLadder(start, 0.5 * now, 0.99 * now, {.step = 0.15, .runs = 5, .work = {}});
    ASSERT_EQ(ladder.steps.size(), 1U);
    EXPECT_TRUE(ladder.steps.front().set.empty());
    EXPECT_EQ(ladder.steps.front().speed, 0.99 * now);
}

// What the setup does unchanged is a step of its own where no change follows that would take it over.
TEST(LadderOfSteps, AnEndAfterTheSetupAsItIsKeepsThatStep) {
    PlanInput start = climber();
    const double now = *simulatePass(passSetup(start), startState(start)).zoneMean;
    start.gears.pinions = {start.gears.pinion_teeth};
    start.gears.spurs = {start.gears.spur_teeth};
    start.controller.max_cells = start.pack.series;
    const Ladder ladder = climbLadder(start, 0.8 * now, 2.0 * now, {.step = 0.15, .runs = 5, .work = {}});
    ASSERT_TRUE(ladder.blocked);
    ASSERT_EQ(ladder.steps.size(), 1U);
    EXPECT_TRUE(ladder.steps.front().set.empty());
    EXPECT_DOUBLE_EQ(ladder.steps.front().speed, 0.8 * now * 1.15);
    EXPECT_DOUBLE_EQ(ladder.blocked->speed, 0.8 * now * 1.15 * 1.15);
}

TEST(LadderOfSteps, NothingToClimbIsRefused) {
    const auto complaint = [](double proven, double target, double step) {
        try {
            static_cast<void>(climbLadder(climber(), proven, target, {.step = step, .runs = 5, .work = {}}));
        } catch (const InputError& error) {
            return std::string(error.what());
        }
        return std::string("no complaint");
    };
    EXPECT_THAT(complaint(40.0, 30.0, 0.15), HasSubstr("proven"));
    EXPECT_THAT(complaint(30.0, 30.0, 0.15), HasSubstr("proven"));
    EXPECT_THAT(complaint(-1.0, 30.0, 0.15), HasSubstr("proven"));
    EXPECT_THAT(complaint(20.0, 30.0, 0.0), HasSubstr("step"));
}

} // namespace

} // namespace rw::testing
