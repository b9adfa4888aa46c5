// The answer to "Will it hold?" against what the plan itself says when its words are tried.
#include "core/plan/hold.h"

#include "core/plan/plan_fields.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

namespace rw::testing {

namespace {

HoldAnswer answerFor(const PlanInput& input) { return willItHold(input, simulatePlan(input)); }

// Far from every limit but grip: a slippery strip and power to spare.
PlanInput onIce() {
    PlanInput input = heavyCar();
    input.venue.friction = 0.12;
    input.controller.motor_current_limit_A.reset();
    input.controller.pack_current_limit_A.reset();
    input.controller.cutoff.mode = CutoffMode::Off;
    return input;
}

} // namespace

TEST(Hold, NamesTheTightestOfThePlansOwnMargins) {
    const PlanInput input = lightCar();
    const PlanResult result = simulatePlan(input);
    const HoldAnswer answer = willItHold(input, result);
    ASSERT_TRUE(answer.tightest);
    EXPECT_EQ(answer.tightest->limit, result.margins.front().limit);
    EXPECT_EQ(answer.tightest->margin, result.margins.front().margin);
    EXPECT_EQ(answer.holds(), result.margins.front().margin >= 0.0);
}

TEST(Hold, ThePairThatItNamesHoldsWhenItIsFitted) {
    PlanInput input = lightCar();
    const PlanResult asItIs = simulatePlan(input);
    // The motor gets exactly as hot as it may, less a little: only a shorter gearing holds.
    input.motor.comfort_C = asItIs.passes.front().caseSoakPeak - 0.5;
    input.gears.pinions.clear();
    for (int teeth = 10; teeth <= input.gears.pinion_teeth + 4; ++teeth)
        input.gears.pinions.push_back(teeth);
    input.gears.spurs = {input.gears.spur_teeth};
    input.vehicle.mesh_min_m = 0.0;
    input.vehicle.mesh_max_m = 1.0;
    const HoldAnswer answer = answerFor(input);
    ASSERT_FALSE(answer.holds());
    ASSERT_TRUE(answer.wouldHold);
    EXPECT_GT(answer.pairsTried, 0);
    PlanInput fitted = input;
    fitted.gears.pinion_teeth = answer.wouldHold->pinion;
    fitted.gears.spur_teeth = answer.wouldHold->spur;
    const PlanResult with = simulatePlan(fitted);
    ASSERT_FALSE(with.margins.empty());
    EXPECT_GE(with.margins.front().margin, 0.0);
    // The answer looks for the pair in sketches: to a millionth.
    EXPECT_NEAR(*with.passes.front().zoneMean, *answer.wouldHold->zoneMean, 1e-6 * *answer.wouldHold->zoneMean);
    // The next larger pinion at hand would be faster, and does not hold.
    ++fitted.gears.pinion_teeth;
    EXPECT_FALSE(answerFor(fitted).holds());
}

TEST(Hold, WhereNoGearHoldsNoneIsNamed) {
    PlanInput input = lightCar();
    input.motor.comfort_C = input.air.temperature_C + 0.01; // any pass is hotter
    const HoldAnswer answer = answerFor(input);
    EXPECT_FALSE(answer.holds());
    EXPECT_FALSE(answer.wouldHold);
}

TEST(Hold, GripThatHoldsBackAllTheWayIsSaidAndMoreCellsChangeNothing) {
    const PlanInput input = onIce();
    const PlanResult result = simulatePlan(input);
    const HoldBack held = willItHold(input, result).heldBack;
    ASSERT_EQ(held.limit, Limit::Traction);
    EXPECT_TRUE(held.allTheWay);
    EXPECT_EQ(held.seconds, result.passes.front().bound.traction);
    EXPECT_FALSE(held.cellsHelp);
    PlanInput more = input;
    more.pack.series += 1;
    EXPECT_NEAR(*simulatePlan(more).passes.front().zoneMean, *result.passes.front().zoneMean,
                1e-3 * *result.passes.front().zoneMean);
}

TEST(Hold, ALowCurrentLimitIsSaid) {
    PlanInput input = heavyCar();
    input.controller.cutoff.mode = CutoffMode::Off;
    input.controller.motor_current_limit_A.reset();
    input.controller.pack_current_limit_A = 20.0;
    const HoldBack held = answerFor(input).heldBack;
    EXPECT_EQ(held.limit, Limit::PackCurrent);
    EXPECT_TRUE(held.allTheWay);
}

TEST(Hold, NothingIsSaidOfALimitThatBoundOnlyTheLaunch) {
    for (const PlanInput& input : {lightCar(), heavyCar()}) {
        const PlanResult result = simulatePlan(input);
        const auto& pass = result.passes.front();
        const double longest =
            std::max({pass.bound.traction, pass.bound.motorCurrent, pass.bound.packCurrent, pass.bound.cutoff});
        EXPECT_EQ(willItHold(input, result).heldBack.limit != Limit::None, longest >= 0.5 * *pass.zoneExit);
    }
}

} // namespace rw::testing
