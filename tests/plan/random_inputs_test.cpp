// Properties over a few thousand random valid inputs: nothing crashes, nothing is NaN, limits hold.
#include "core/error.h"
#include "core/plan/plan.h"

#include "core/plan/plan_figures.h"
#include "core/plan/plan_json.h"
#include "tests/plan/random_plan.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

// A figure that is far out of any scale may overflow to infinity and becomes null in the JSON; NaN is a defect.
void expectNoNan(const PlanInput& plan, const PassResult& pass) {
    for (const PlanFigure& figure : planFigures())
        if (const auto value = figure.get(plan, pass)) {
            EXPECT_FALSE(std::isnan(*value)) << figure.key;
        }
    for (const Margin& margin : margins(plan, {pass}))
        EXPECT_TRUE(std::isfinite(margin.margin)) << margin.limit;
}

void expectConsistent(const PlanInput& plan, const PassResult& pass) {
    constexpr double rounding = 1e-6;
    if (const auto limit = plan.controller.motor_current_limit_A) {
        EXPECT_LE(pass.peakMotorCurrent, *limit * (1.0 + rounding) + 1e-9);
    }
    if (const auto limit = plan.controller.pack_current_limit_A) {
        EXPECT_LE(pass.peakPackCurrent, std::max(*limit, plan.controller.aux_current_A) * (1.0 + rounding) + 1e-9);
    }
    EXPECT_EQ(pass.completed, pass.zoneMean.has_value());
    if (pass.zoneMean) {
        EXPECT_LE(*pass.zoneMean, pass.peakSpeed * (1.0 + rounding));
        EXPECT_LE(*pass.zoneEntry, *pass.zoneExit);
        EXPECT_NEAR(*pass.zoneMean * (*pass.zoneExit - *pass.zoneEntry), plan.venue.timed_m,
                    rounding * plan.venue.timed_m);
        EXPECT_GE(pass.stopAt, (plan.venue.run_up_m + plan.venue.timed_m) * (1.0 - rounding));
    }
    if (pass.timeToTarget) {
        EXPECT_GE(pass.peakSpeed * (1.0 + rounding), *plan.drive.target_mps);
    }
    const double bound = pass.bound.motorCurrent + pass.bound.packCurrent + pass.bound.traction + pass.bound.cutoff;
    EXPECT_LE(bound, pass.duration * (1.0 + rounding));
}

// A soft cutoff holds the pack voltage by taking motor current away; below it no motor current is left.
InstantSink softCutoffWatch(const PlanInput& plan) {
    if (plan.controller.cutoff.mode != CutoffMode::Soft) return {};
    const double floor = *plan.controller.cutoff.cell_V * plan.pack.series;
    return [floor](const Instant& instant) {
        if (instant.packVoltage < floor * (1.0 - 1e-6)) {
            EXPECT_LE(instant.motorCurrent, 1e-6) << "at " << instant.time << " s";
        }
    };
}

TEST(RandomInputs, PlausiblePlansHoldTheirLimits) {
    SeededUniform random(1001);
    int completed = 0;
    constexpr int count = 2000;
    for (int i = 0; i < count; ++i) {
        const PlanInput plan = plausiblePlan(random);
        SCOPED_TRACE(i);
        const PassResult pass = simulatePass(passSetup(plan), startState(plan), {}, softCutoffWatch(plan));
        expectNoNan(plan, pass);
        expectConsistent(plan, pass);
        completed += pass.completed ? 1 : 0;
    }
    EXPECT_GT(completed, count / 2);
}

// The steady top speed is a balance of forces, not a place where the acceleration jumps over 0.
void expectBalanceAtTopSpeed(const PlanInput& plan) {
    const PassSetup setup = passSetup(plan);
    const auto top = steadyTopSpeed(setup, startState(plan));
    if (!top || *top == 0.0) return;
    const ForceBalance there = forceBalance(setup, startState(plan), *top);
    EXPECT_NEAR(std::min(there.drive, there.tractionLimit), there.resistance, 1e-6 * plan.vehicle.mass_kg * 9.8)
        << "at " << *top << " m/s";
}

TEST(RandomInputs, SteadyTopSpeedBalancesTheForces) {
    SeededUniform random(1003);
    for (int i = 0; i < 1000; ++i) {
        SCOPED_TRACE(i);
        expectBalanceAtTopSpeed(plausiblePlan(random, 4.0));
    }
}

// A plan that once went wrong: a motor brake that would lift the driven axle, had the current not been clipped.
TEST(RandomInputs, TopSpeedAboveTheMotorsOwnIsFoundPastTheClippedBrake) {
    const PlanInput plan =
        readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/tests/plan/found/brake_of_the_motor_lifts_the_rear.json");
    expectBalanceAtTopSpeed(plan);
    EXPECT_GT(*steadyTopSpeed(passSetup(plan), startState(plan)),
              30.0); // 33.76 by a second implementation of the equations
}

TEST(RandomInputs, OddPlansNeitherCrashNorGiveNan) {
    // Every number up to ten times too large or too small. A few of them contradict themselves (wheels that outweigh
    // the vehicle, say), slide and grip without end, and are refused.
    SeededUniform random(1002);
    int refused = 0;
    for (int i = 0; i < 200; ++i) {
        const PlanInput plan = plausiblePlan(random, 10.0);
        SCOPED_TRACE(i);
        try {
            const PassResult pass = simulatePass(passSetup(plan), startState(plan));
            expectNoNan(plan, pass);
            expectConsistent(plan, pass);
        } catch (const InputError&) {
            ++refused;
        }
    }
    EXPECT_LE(refused, 2);
}

// A plan that once went wrong: steam of 4.8 bar asked for at 1 bar, whose air had a negative density and pushed.
TEST(RandomInputs, MoreVapourThanThePressureAllowsIsRefused) {
    PlanInput plan = heavyCar();
    plan.air.temperature_C = 150.0;
    plan.air.relative_humidity = 1.0; // saturation pressure at 150 °C: 4.76 bar, steam tables (IAPWS-IF97)
    EXPECT_THROW(static_cast<void>(passSetup(plan)), InputError);
    plan.air.relative_humidity = 0.1;
    EXPECT_GT(passSetup(plan).strip.airDensity, 0.0);
}

TEST(RandomInputs, WholePlansHaveJsonWithoutNanOrInfinity) {
    SeededUniform random(1003);
    for (int i = 0; i < 20; ++i) {
        const PlanInput plan = plausiblePlan(random);
        const std::string json = planResultJson(plan, simulatePlan(plan));
        EXPECT_EQ(json.find("nan"), std::string::npos);
        EXPECT_EQ(json.find("inf"), std::string::npos);
    }
}

} // namespace

} // namespace rw::testing
