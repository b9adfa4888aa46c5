// With what logs taught of a setup a pass is foretold by that, and the review says so.
#include "core/plan/plan_input.h"
#include "core/review/sentence.h"
#include "core/units.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <cmath>

namespace rw {
namespace {

using namespace test;
using enum Quantity;
using testing::Contains;
using testing::HasSubstr;

PlanInput heavy() {
    PlanInput plan = handPlan();
    plan.vehicle.mass_kg = 6.0;
    return plan;
}
PlanInput taught(PlanInput plan) {
    plan.learned = LearnedInput{};
    return plan;
}
LogReview reviewed(const HandLog& log, const PlanInput& plan, const std::optional<PlanInput>& learned = {}) {
    ReviewOptions options;
    options.plan = plan;
    options.learned = learned;
    if (learned) options.learnedFrom = "fit-3, 6 passes";
    return reviewLog(log.build(), options);
}
std::string seen(const LogReview& review, std::string_view id) {
    const Finding* found = findingOf(review, id);
    return found ? textOf(found->seen) : "";
}

// The taught mass stands in for the planned one, and only there.
TEST(Taught, offPlanIsJudgedByWhatLogsTaught) {
    const LogReview planned = reviewed(goodPass(), heavy()), light = reviewed(goodPass(), handPlan()),
                    learned = reviewed(goodPass(), heavy(), taught(handPlan()));
    ASSERT_NE(seen(planned, "off-plan"), "");
    ASSERT_NE(seen(planned, "off-plan"), seen(light, "off-plan"));
    EXPECT_EQ(seen(learned, "off-plan"), seen(light, "off-plan") + " Planned with what logs taught of this setup.");
    EXPECT_THAT(learned.notes, Contains(HasSubstr("fit-3, 6 passes")));
    EXPECT_THAT(planned.notes, testing::Not(Contains(HasSubstr("logs taught"))));
}

// Two resistances that were only learned together: the same 0.008 ohm is in one or in the other.
TEST(Taught, whatIsKnownOnlyTogetherWidensNoBand) {
    PlanInput apart = heavy();
    apart.uncertainty = {{"pack.cell_resistance_ohm", 0.0019}, {"pack.lead_resistance_ohm", 0.0076}};
    apart.pack.lead_resistance_ohm = 0.008;
    PlanInput sure = apart, together = apart;
    sure.uncertainty.clear();
    together.correlation = {{"pack.cell_resistance_ohm", "pack.lead_resistance_ohm", -0.99999}};
    const auto band = [](const PlanInput& plan) {
        return textOf(findingOf(reviewed(goodPass(), plan), "off-plan")->threshold);
    };
    EXPECT_NE(band(apart), band(sure));
    EXPECT_EQ(band(together), band(sure));
}

// Closed form: two nodes of known capacities and resistances, standing; eigenvalues of their two equations.
TEST(Taught, soakIsForetoldFromAFewSecondsWhereTheMotorIsKnown) {
    constexpr double windingCapacity = 20.0, caseCapacity = 80.0, between = 0.4, toAir = 4.0; // of handPlan
    constexpr double a = 1.0 / (windingCapacity * between), b = 1.0 / (caseCapacity * between),
                     c = 1.0 / (caseCapacity * toAir);
    const double root = std::sqrt((a + b + c) * (a + b + c) - 4.0 * a * c);
    const double fast = (a + b + c + root) / 2.0, slow = (a + b + c - root) / 2.0;
    // 40 °C of case and 90 °C of winding over air at the pass's end: T = P exp(-slow t) + Q exp(-fast t).
    constexpr double winding = 90.0, motorCase = 40.0, air = 293.15;
    const double slope = b * (winding - motorCase) - c * motorCase;
    const double q = -(slope + slow * motorCase) / (fast - slow), p = motorCase - q;
    const auto course = [=](double t) { return air + p * std::exp(-slow * t) + q * std::exp(-fast * t); };
    const double peak = course(std::log(-q * fast / (p * slow)) / (fast - slow));
    HandLog log = goodPass();
    log.put(MotorTemperature, [=](double t) {
        return (t < closes ? air + motorCase * std::max(0.0, t - opens) / (closes - opens) : course(t - closes)) +
               wobble(t, 0.02);
    });
    log.lasts(closes + 4.0);
    const LogReview learned = reviewed(log, handPlan(), taught(handPlan()));
    ASSERT_TRUE(learned.passes.at(0).motor.soakPredicted);
    EXPECT_NEAR(*learned.passes[0].motor.soakPredicted, peak, 1.0);
    // Not knowing the motor, four seconds tell less.
    const LogReview planned = reviewed(log, handPlan());
    EXPECT_LT(*learned.passes[0].motor.soakPredictedError, planned.passes[0].motor.soakPredictedError.value_or(5.0));
    // Doubts about the motor are doubts about its peak.
    PlanInput unsure = taught(handPlan());
    unsure.uncertainty["motor.winding_case_KpW"] = 0.1;
    const LogReview doubtful = reviewed(log, handPlan(), unsure);
    EXPECT_GT(doubtful.passes[0].motor.soakPredictedError.value_or(5.0), *learned.passes[0].motor.soakPredictedError);
}

TEST(Taught, theCutoffsCostIsTold) {
    HandLog log = goodPass();
    log.change(PackVoltage, [](double t, double was) { return t > 22.0 && t < 22.5 ? 4.0 * 3.38 : was; });
    log.change(Output, [](double t, double was) { return t > 22.4 && t < closes ? 0.0 : was; });
    PlanInput plan = handPlan();
    plan.controller.cutoff = {CutoffMode::Soft, 3.4, 0.5};
    EXPECT_THAT(seen(reviewed(log, plan), "cutoff-acted"), testing::Not(HasSubstr("taught")));
    EXPECT_THAT(seen(reviewed(log, plan, taught(plan)), "cutoff-acted"), testing::HasSubstr("logs taught"));
}

// The planned pass has the cutoff act before the zone and loses nothing in it: not that the plan did not foresee it.
TEST(Taught, aCutoffThatThePlanHasIsForeseen) {
    HandLog log = goodPass();
    PlanInput plan = handPlan();
    plan.venue = {900.0, 600.0, 30.0, 0.0, 0.0, 1.4};
    plan.pack.cell_resistance_ohm = 0.01;
    plan.controller.cutoff = {CutoffMode::Soft, 3.85, 0.05};
    log.change(PackVoltage,
               [](double t, double was) { return t > 20.5 && t < 22.0 ? 4.0 * 3.85 + wobble(t, 0.02) : was; });
    log.change(Output, [](double t, double was) { return t > 21.0 && t < 22.0 ? 0.8 * was : was; });
    EXPECT_THAT(seen(reviewed(log, plan), "cutoff-acted"), testing::HasSubstr("cost nothing"));
}

TEST(Taught, theWaitFollowsTheMotorThatLogsTaught) {
    const auto day = [] {
        HandLog log = goodPass();
        const auto within = [](double t) { return t - 60.0 * std::floor(std::max(0.0, t - 10.0) / 60.0); };
        for (const Quantity q : {Throttle, Output, PackCurrent, PackVoltage, MotorSpeed})
            log.put(q, [=, was = log.of(q)](double t) { return was(within(t)); });
        log.put(MotorTemperature, [=](double t) {
            const double at = within(t), from = t < 70.0 ? 30.0 : 42.0;
            const double up = at < opens ? 0.0 : 20.0 * (1.0 - std::exp(-(at - opens) / 5.0)),
                         down = at < 40.0 ? 0.0 : (at - 40.0) * 0.3;
            return 273.15 + from + up - down;
        });
        return log.lasts(130.0);
    }();
    const std::string planned = seen(reviewed(day, handPlan()), "heat-accumulates"),
                      learned = seen(reviewed(day, handPlan(), taught(handPlan())), "heat-accumulates");
    EXPECT_THAT(planned, HasSubstr("a wait of about"));
    EXPECT_THAT(planned, testing::Not(HasSubstr("taught")));
    EXPECT_THAT(learned, HasSubstr("by what logs taught of the motor"));
}

// Six cells after a session of four: the plan of four, and what was taught of it, is not this session's.
TEST(Taught, aSessionThatThePlanDoesNotFitIsForetoldByNothing) {
    HandLog day = goodPass();
    const auto within = [](double t) { return t - 60.0 * std::floor(std::max(0.0, t - 10.0) / 60.0); };
    for (const Quantity q : {Throttle, Output, PackCurrent, PackVoltage, MotorSpeed})
        day.put(q, [=, was = day.of(q)](double t) { return was(within(t)); });
    day.change(PackVoltage, [](double t, double was) { return t < 5.0 ? was : was + 8.4; });
    day.put(SessionMark, [](double t) { return t < 5.0 ? 0.0 : 1.0; });
    day.put(MotorTemperature, [](double t) {
        const auto warmed = [t](double since) { return t < since ? 0.0 : 20.0 * (1.0 - std::exp((since - t) / 5.0)); };
        return 303.15 + warmed(opens) + warmed(opens + 60.0) - 0.1 * std::max(0.0, t - 40.0);
    });
    day.lasts(130.0);
    const LogReview review = reviewed(day, handPlan(), taught(handPlan()));
    ASSERT_EQ(review.sessions.size(), 2U);
    ASSERT_TRUE(review.sessions[0].planFits && !review.sessions[1].planFits);
    EXPECT_THAT(seen(review, "heat-accumulates"), HasSubstr("a wait of"));
    EXPECT_THAT(seen(review, "heat-accumulates"), testing::Not(HasSubstr("taught")));
}

// The motor still warms up as the next pass begins: how it cools was not seen.
TEST(Taught, noWaitIsToldFromAMotorThatDidNotCool) {
    HandLog day = goodPass();
    const auto within = [](double t) { return t - 60.0 * std::floor(std::max(0.0, t - 10.0) / 60.0); };
    for (const Quantity q : {Throttle, Output, PackCurrent, PackVoltage, MotorSpeed})
        day.put(q, [=, was = day.of(q)](double t) { return was(within(t)); });
    day.put(MotorTemperature, [](double t) {
        const auto warmed = [t](double since) { return t < since ? 0.0 : 20.0 * (1.0 - std::exp((since - t) / 15.0)); };
        return 303.15 + warmed(opens) + warmed(opens + 60.0);
    });
    day.lasts(130.0);
    const std::string planned = seen(reviewed(day, handPlan()), "heat-accumulates");
    ASSERT_NE(planned, "");
    EXPECT_THAT(planned, testing::Not(HasSubstr("a wait of")));
    EXPECT_THAT(seen(reviewed(day, handPlan(), taught(handPlan())), "heat-accumulates"), HasSubstr("a wait of"));
}

} // namespace
} // namespace rw
