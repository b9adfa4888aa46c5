#include "core/plan/reach.h"

#include "core/error.h"
#include "core/plan/scan.h"
#include "core/stopped.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw::testing {

namespace {

double meanWithRatio(const PlanInput& plan, double ratio) {
    PassSetup setup = passSetup(plan);
    setup.gearing.ratio = ratio;
    return simulatePass(setup, startState(plan)).zoneMean.value_or(0.0);
}

double meanWithDrag(const PlanInput& plan, double area) {
    PassSetup setup = passSetup(plan);
    setup.chassis.dragArea = area;
    return simulatePass(setup, startState(plan)).zoneMean.value_or(0.0);
}

TEST(Reach, RatiosHoldTheTargetAtBothEndsAndNotBeyond) {
    for (const PlanInput& plan : samplePlans()) {
        const double target = 0.9 * *plan.drive.target_mps;
        const ReachResult reach = reachTarget(plan, target);
        ASSERT_TRUE(reach.gearing.ratios.has_value());
        const auto [low, high] = *reach.gearing.ratios;
        EXPECT_GE(meanWithRatio(plan, low), target);
        EXPECT_GE(meanWithRatio(plan, high), target);
        EXPECT_LT(meanWithRatio(plan, low - 1e-6), target);
        EXPECT_LT(meanWithRatio(plan, high + 1e-6), target);
        // Everything between, looked at ten times denser than any feature of these cars.
        for (int i = 1; i < 60; ++i)
            EXPECT_GE(meanWithRatio(plan, low + (high - low) * i / 60.0), target - 1e-9);
        EXPECT_EQ(reach.gearing.binding, "");
    }
}

TEST(Reach, BestMeanIsNotBeatenByADenseScan) {
    for (const PlanInput& plan : samplePlans()) {
        const ReachResult reach = reachTarget(plan, 500.0);
        EXPECT_FALSE(reach.gearing.reachable);
        double best = 0.0;
        for (const double ratio : logSpaced(1.0, 10.0, 700))
            best = std::max(best, meanWithRatio(plan, ratio));
        EXPECT_GE(*reach.gearing.zoneMean, best * (1.0 - 1e-9));
    }
}

TEST(Reach, ATargetJustUnderTheBestMeanIsReachable) {
    const PlanInput plan = heavyCar();
    const double best = *reachTarget(plan, 500.0).gearing.zoneMean;
    const ReachResult just = reachTarget(plan, best * (1.0 - 1e-7));
    EXPECT_TRUE(just.gearing.reachable);
    EXPECT_LT(just.gearing.ratios->second / just.gearing.ratios->first, 1.05);
    EXPECT_FALSE(reachTarget(plan, best * (1.0 + 1e-7)).gearing.reachable);
}

TEST(Reach, CellsAreThoseThatMakeIt) {
    PlanInput plan = streamliner();
    const double target = 70.0;
    const ReachResult reach = reachTarget(plan, target);
    for (int cells = 1; cells <= 24; ++cells) {
        plan.pack.series = cells;
        const auto mean = simulatePass(passSetup(plan), startState(plan)).zoneMean;
        const auto& counts = reach.cells.counts;
        EXPECT_EQ(std::count(counts.begin(), counts.end(), cells) == 1, mean && *mean >= target) << cells;
    }
}

TEST(Reach, LargestDragAreaHoldsTheTargetAndNoLarger) {
    for (const PlanInput& plan : samplePlans()) {
        const double target = *plan.drive.target_mps;
        const ReachResult reach = reachTarget(plan, target);
        ASSERT_TRUE(reach.dragArea.largest.has_value());
        const double area = *reach.dragArea.largest;
        EXPECT_GE(meanWithDrag(plan, area), target);
        EXPECT_LT(meanWithDrag(plan, area * (1.0 + 1e-7)), target);
        EXPECT_GE(*reach.dragArea.zoneMean, target);
    }
}

TEST(Reach, NearestPairIsOneOfTheOwnersThatMakesItWhereThereIsOne) {
    const PlanInput plan = lightCar();
    const double target = 44.0;
    const ReachResult reach = reachTarget(plan, target);
    ASSERT_TRUE(reach.gearing.nearestPair.has_value());
    const ReachPair& pair = *reach.gearing.nearestPair;
    EXPECT_EQ(std::count(plan.gears.pinions.begin(), plan.gears.pinions.end(), pair.pinion), 1);
    EXPECT_EQ(std::count(plan.gears.spurs.begin(), plan.gears.spurs.end(), pair.spur), 1);
    EXPECT_DOUBLE_EQ(*pair.zoneMean, meanWithRatio(plan, pair.overallRatio));
    EXPECT_GE(*pair.zoneMean, target);
    PlanInput loose = plan;
    loose.vehicle.mesh_min_m = 0.9;
    EXPECT_FALSE(reachTarget(loose, target).gearing.nearestPair.has_value());
}

TEST(Reach, NamesWhatStandsInTheWay) {
    PlanInput plan = heavyCar();
    plan.venue.friction = 0.3;
    EXPECT_EQ(reachTarget(plan, 60.0).gearing.binding, "traction");
    plan = heavyCar();
    plan.controller.motor_current_limit_A = 20.0;
    plan.controller.pack_current_limit_A.reset();
    EXPECT_EQ(reachTarget(plan, 60.0).cells.binding, "motor_current");
    plan = heavyCar();
    plan.controller.pack_current_limit_A = 20.0;
    EXPECT_EQ(reachTarget(plan, 60.0).gearing.binding, "pack_current");
    plan = heavyCar();
    plan.controller.cutoff = {CutoffMode::Soft, 4.1, 0.0};
    EXPECT_EQ(reachTarget(plan, 60.0).gearing.binding, "cutoff");
    plan = heavyCar();
    plan.venue = {430.0, 10.0, 10.0, 0.0, 0.0, 2.5};
    plan.controller.motor_current_limit_A.reset();
    plan.controller.pack_current_limit_A.reset();
    EXPECT_EQ(reachTarget(plan, 60.0).gearing.binding, "run_up");
    plan = heavyCar();
    plan.venue = {2000.0, 1900.0, 10.0, 0.0, 0.0, 2.5}; // as fast as it gets long before the zone
    plan.motor.resistance_ohm = 0.2;
    plan.controller.motor_current_limit_A.reset();
    plan.controller.pack_current_limit_A.reset();
    EXPECT_EQ(reachTarget(plan, 60.0).gearing.binding, "power");
}

TEST(Reach, TargetsThatAreNoSpeedAreRefused) {
    for (const double target : {0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity()})
        EXPECT_THROW(static_cast<void>(reachTarget(heavyCar(), target)), InputError);
}

TEST(Reach, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    EXPECT_THROW((void)reachTarget(heavyCar(), 40.0, {.stop = stop.get_token(), .progress = {}, .threads = 0}),
                 Stopped);
}

TEST(Scan, MaximumOfAParabola) {
    const auto hump = [](double x) { return 3.0 - (x - 1.7) * (x - 1.7); };
    const ScanPoint best = refineMaximum(hump, {1.0, hump(1.0)}, {1.5, hump(1.5)}, {2.0, hump(2.0)});
    EXPECT_NEAR(best.x, 1.7, 1e-5);
    EXPECT_NEAR(best.y, 3.0, 1e-10);
}

TEST(Scan, EdgeOfAStepIsOnItsInnerSide) {
    const auto step = [](double x) { return x <= 2.0 ? 1.0 : 0.0; };
    const double edge = edgeOf(step, 0.5, 1.0, 3.0, 1e-9);
    EXPECT_LE(edge, 2.0);
    EXPECT_NEAR(edge, 2.0, 1e-9);
}

} // namespace

} // namespace rw::testing
