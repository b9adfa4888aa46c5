// Where the search ends: not astray, and it says so where it might as well have ended elsewhere.
#include "core/learn/learn.h"
#include "core/pass/pass.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "tests/learn/made_day.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rw::testing {

namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

// Days on which the search once ended elsewhere: in a long valley, and with a pack less full and a sensor's gain five
// deviations off.
TEST(Search, ComesBackFromWhereItWentAstray) {
    struct Astray {
        double rate;
        int passes;
        std::uint64_t seed;
    };
    for (const Astray& one : {Astray{20.0, 2, 10042}, Astray{25.0, 4, 10084}}) {
        DayStyle style;
        style.rate = one.rate, style.passes = one.passes;
        const MadeDay day = makeDay(heavyCar(), style, one.seed);
        const LearnLog log{&day.log, &day.review, day.plan, ""};
        LearnOptions options;
        options.foretell = false;
        const LearnReport report = learn({&log, 1}, options);
        EXPECT_TRUE(report.converged) << one.seed;
        for (const LearnedParameter& p : report.parameters)
            EXPECT_LT(std::abs(p.value - *findPlanField(p.key)->get(day.truth)), 4.0 * p.standardError)
                << p.key << " of " << one.seed;
        EXPECT_THAT(report.notes, Not(Contains(HasSubstr("Two solutions"))));
    }
}

// A flat launch at a constant force, read by a speed over ground alone: the tyre's friction holds it, or the
// controller's limit of current does. The truth is the former, two deviations from what was entered; the limit at which
// the motor would push as hard lies two deviations from what was entered too.
TEST(Search, TwoSolutionsAsGoodAreSaid) {
    PlanInput plan = heavyCar();
    plan.vehicle.lift_area_front_m2 = plan.vehicle.lift_area_rear_m2 = 0.0;
    plan.controller.pack_current_limit_A.reset();
    plan.controller.motor_current_limit_A.reset();
    plan.controller.cutoff.mode = CutoffMode::Off;
    plan.uncertainty.clear();
    constexpr double spread = 0.08;
    PlanInput truth = plan;
    truth.venue.friction -= 2.0 * spread;
    double held = 0.0; // A, while the tyre holds the launch
    (void)simulatePass(passSetup(truth), startState(truth), {.traceRate = 100.0}, [&held](const Instant& i) {
        if (i.time > 0.8 && i.time < 1.0) held = std::max(held, i.motorCurrent);
    });
    plan.controller.motor_current_limit_A = 1.16 * held;
    plan.uncertainty = {{"venue.friction", spread}, {"controller.motor_current_limit_A", 0.08 * held}};
    DayStyle style;
    style.rate = 20.0, style.passes = 2;
    style.sensors.groundSpeed = true;
    style.truth = {{"venue.friction", truth.venue.friction}, {"controller.motor_current_limit_A", 1.16 * held}};
    MadeDay day = makeDay(plan, style, 7);
    for (const Quantity q : {Quantity::PackVoltage, Quantity::PackCurrent, Quantity::MotorSpeed, Quantity::Output,
                             Quantity::MotorTemperature, Quantity::PackTemperature, Quantity::ControllerTemperature}) {
        auto& values = day.log.channels[static_cast<std::size_t>(q)].values;
        values.assign(values.size(), std::nan(""));
    }
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    LearnOptions options;
    options.foretell = false;
    const LearnReport report = learn({&log, 1}, options);
    ASSERT_EQ(report.parameters.size(), 1U);
    const LearnedParameter& limit = report.parameters.front();
    EXPECT_THAT(report.notes, Contains(::testing::AllOf(HasSubstr("Two solutions are as good"),
                                                        HasSubstr("controller.motor_current_limit_A"))));
    // Whichever is told, the errors hold the other.
    const double other = std::abs(limit.value - held) < std::abs(limit.value - 1.16 * held) ? 1.16 * held : held;
    EXPECT_LT(std::abs(limit.value - other), 2.5 * limit.standardError);
    EXPECT_FALSE(limit.determined);
}

} // namespace

} // namespace rw::testing
