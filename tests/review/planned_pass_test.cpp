// The plan run from a pass's own start.
#include "core/plan/plan.h"
#include "core/review/compare.h"
#include "core/units.h"
#include "tests/review/hand_log.h"

#include <gtest/gtest.h>

namespace rw {
namespace {

using namespace test;

// A log written from the plan's own run (core/pass) has the plan's start: what is read back must be what was put in.
TEST(PlannedPass, startsWhereThePassStarted) {
    PlanInput plan = handPlan();
    plan.pack.charge = 0.8;
    const double resting = plan.pack.series * passSetup(plan).pack.ocv.at(0.8);
    ReviewPass pass;
    pass.restingVoltage = resting;
    pass.motor.start = kelvinFromCelsius(41.0);
    pass.controller.start = kelvinFromCelsius(33.0);
    pass.throttleRise = 1.2; // of a straight ramp of 1.5 s: 80 % of it lie between 10 and 90 %
    plan.pack.charge = 1.0;
    plan.start.pack_C = 24.0;
    const PlanInput own = plannedPass(plan, pass);
    EXPECT_NEAR(own.pack.charge, 0.8, 1e-6);
    EXPECT_NEAR(own.drive.throttle_ramp_s, 1.5, 1e-12);
    const StartState start = startState(own);
    EXPECT_DOUBLE_EQ(start.motorCase, 41.0);
    EXPECT_DOUBLE_EQ(start.controller, 33.0);
    EXPECT_DOUBLE_EQ(start.pack, 24.0); // not logged: as planned
}

TEST(PlannedPass, whatTheLogDoesNotTellStaysAsPlanned) {
    const PlanInput plan = handPlan();
    const PlanInput own = plannedPass(plan, ReviewPass{});
    EXPECT_EQ(own.pack.charge, plan.pack.charge);
    EXPECT_EQ(own.drive.throttle_ramp_s, plan.drive.throttle_ramp_s);
    EXPECT_EQ(own.start.motor_C, plan.start.motor_C);
}

} // namespace
} // namespace rw
