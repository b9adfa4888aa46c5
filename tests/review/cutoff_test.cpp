// Power that the low-voltage cutoff took. Each log is made by hand from the rule's own numbers: what is planted is what
// must be found, with its span.
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <cmath>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

constexpr double cells = 4.0, resting = 16.72, ohm = 0.045;

// The good pass on a weak pack: at 22 s it lies near 3.55 V per cell. Voltage follows the current that is there.
HandLog weakPass() {
    HandLog log = goodPass();
    log.put(PackVoltage, [c = log.of(PackCurrent)](double t) { return resting - ohm * c(t); });
    return log;
}
// From `from` to `to` all but `left` of the power is gone: output, current and voltage together, the motor slows.
HandLog taken(double from, double to, double left) {
    HandLog log = weakPass();
    const auto gone = [=](double t) { return t > from && t < to; };
    log.change(Output, [=](double t, double was) { return gone(t) ? left * was : was; });
    // Power comes back to a car that is slower: the current goes on where it was left.
    log.change(PackCurrent, [=, amperes = log.of(PackCurrent)](double t, double was) {
        const bool back = t >= to && t < closes - 0.1;
        return gone(t) ? left * was : back ? amperes(t - (to - from)) : was;
    });
    log.change(MotorSpeed, [=, speed = log.of(MotorSpeed)](double t, double was) {
        const bool back = t >= to && t < closes - 0.1;
        return gone(t) ? speed(from) - 120.0 * (t - from) : back ? speed(t - (to - from)) : was;
    });
    log.put(PackVoltage, [c = log.of(PackCurrent)](double t) { return resting - ohm * c(t); });
    return log;
}
// V per cell of the weak pass at a time, as it stands before anything is taken.
double cellAt(double t) { return weakPass().of(PackVoltage)(t) / cells; }

std::optional<Severity> severityOf(const LogReview& review) {
    const Finding* found = findingOf(review, "cutoff-acted");
    return found ? std::optional(found->severity) : std::nullopt;
}

LogReview review(const HandLog& log, std::optional<double> cutoff = {}) {
    ReviewOptions options;
    options.cutoffCell = cutoff;
    return reviewLog(log.build(), options);
}

const double there = cellAt(22.0); // the voltage at which it is taken

TEST(Cutoff, isFoundFromWhereTheFallStartsUntilPowerReturns) {
    const LogReview found = review(taken(22.0, 24.0, 0.5), there);
    const Finding* f = findingOf(found, "cutoff-acted");
    ASSERT_TRUE(f);
    EXPECT_EQ(f->severity, Severity::Watch);
    EXPECT_NEAR(f->from, 22.0, 0.051);
    EXPECT_NEAR(f->to, 24.0, 0.051);
    EXPECT_LE(f->from, f->at);
    EXPECT_LE(f->at, f->to);
    EXPECT_EQ(found.findings.front().id, "cutoff-acted"); // the first of its pass
}

TEST(Cutoff, thatTakesEverythingIsHard) {
    EXPECT_EQ(severityOf(review(taken(22.0, 24.0, 0.0), there)), Severity::Act);
    EXPECT_EQ(severityOf(review(taken(22.0, 24.0, 0.0))), Severity::Watch); // untold
    EXPECT_EQ(severityOf(review(taken(22.0, 24.0, 0.5))), Severity::Note);
}

TEST(Cutoff, takesThePowerUntilTheThrottleCloses) {
    const LogReview found = review(taken(22.0, 40.0, 0.3), there);
    ASSERT_TRUE(findingOf(found, "cutoff-acted"));
    EXPECT_NEAR(findingOf(found, "cutoff-acted")->to, closes, 0.051);
}

TEST(Cutoff, isToldSpanBySpan) {
    HandLog log = taken(21.5, 22.2, 0.6);
    log.change(Output, [](double t, double was) { return t > 23.5 && t < 24.5 ? 0.7 * was : was; });
    ReviewOptions options;
    options.cutoffCell = cellAt(23.5);
    EXPECT_EQ(idsOf(reviewLog(log.build(), options)).count("cutoff-acted"), 2U);
    options.cutoffCell = cellAt(21.5); // 0.15 V per cell lower: by 23.5 s the pack is relieved
    const LogReview one = reviewLog(log.build(), options);
    EXPECT_EQ(idsOf(one).count("cutoff-acted"), 1U);
    ASSERT_TRUE(findingOf(one, "cutoff-acted"));
    EXPECT_NEAR(findingOf(one, "cutoff-acted")->from, 21.5, 0.051);
}

// Voltage recovers once power is taken, and a pass that only sags loses none.
TEST(Cutoff, isJudgedByTheFallAndNotByTheLowestVoltage) {
    HandLog log = weakPass();
    EXPECT_FALSE(findingOf(review(log, cellAt(21.0) + 0.03), "cutoff-acted"));
    EXPECT_FALSE(findingOf(review(log, cellAt(21.0) + 0.2), "cutoff-acted"));
}

TEST(Cutoff, farUnderTheVoltageDoesNotExplainAFall) {
    EXPECT_TRUE(findingOf(review(taken(22.0, 24.0, 0.7), there - 0.09), "cutoff-acted"));
    EXPECT_FALSE(findingOf(review(taken(22.0, 24.0, 0.7), there - 0.12), "cutoff-acted"));
}

TEST(Cutoff, isNoneWhereTheDriverLetsGoAtOnce) {
    HandLog log = taken(22.0, 40.0, 0.5);
    const auto lift = [](double at) {
        return [=](double t, double was) { return t > at ? std::max(0.0, was - 4.0 * (t - at)) : was; };
    };
    HandLog soon = log, later = log;
    soon.change(Throttle, lift(22.06));
    later.change(Throttle, lift(22.4));
    EXPECT_FALSE(findingOf(review(soon, there), "cutoff-acted"));
    EXPECT_TRUE(findingOf(review(later, there), "cutoff-acted"));
}

TEST(Cutoff, isSeenInTheCurrentWhereThereIsNoOutput) {
    const LogReview half = review(taken(22.0, 25.0, 0.5).drop(Output), there);
    ASSERT_TRUE(findingOf(half, "cutoff-acted"));
    EXPECT_EQ(findingOf(half, "cutoff-acted")->severity, Severity::Watch);
    EXPECT_NEAR(findingOf(half, "cutoff-acted")->from, 22.0, 0.051);
    EXPECT_NEAR(findingOf(half, "cutoff-acted")->to, 25.0, 0.11);
    const LogReview all = review(taken(22.0, 25.0, 0.02).drop(Output), there);
    ASSERT_TRUE(findingOf(all, "cutoff-acted"));
    EXPECT_EQ(findingOf(all, "cutoff-acted")->severity, Severity::Act);
    const LogReview untold = review(taken(22.0, 25.0, 0.02).drop(Output));
    ASSERT_TRUE(findingOf(untold, "cutoff-acted"));
    EXPECT_EQ(findingOf(untold, "cutoff-acted")->severity, Severity::Watch);
    // Gone for less than a second is no hard cut by current alone.
    EXPECT_EQ(severityOf(review(taken(22.0, 22.6, 0.02).drop(Output), there)), Severity::Watch);
}

// The current of any launch falls by more than a fifth within a second as speed rises.
TEST(Cutoff, isNotTheCurrentOfALaunch) {
    for (double cutoff = 3.3; cutoff < 3.9; cutoff += 0.05)
        EXPECT_FALSE(findingOf(review(weakPass().drop(Output), cutoff), "cutoff-acted")) << cutoff;
}

TEST(Cutoff, withoutMotorSpeedNeedsACollapse) {
    EXPECT_FALSE(findingOf(review(taken(22.0, 25.0, 0.5).drop(Output).drop(MotorSpeed), there), "cutoff-acted"));
    EXPECT_TRUE(findingOf(review(taken(22.0, 25.0, 0.3).drop(Output).drop(MotorSpeed), there), "cutoff-acted"));
    EXPECT_FALSE(findingOf(review(weakPass().drop(Output).drop(MotorSpeed), there), "cutoff-acted"));
}

// A light car is at its top speed half a second after its current began to fall.
TEST(Cutoff, isNotAQuickLaunchThatWentOnAsFastBefore) {
    HandLog log = weakPass();
    log.put(PackCurrent, [throttle = log.of(Throttle)](double t) {
        return 0.4 + throttle(t) * (20.0 + std::max(0.0, 140.0 - 110.0 * std::max(0.0, t - 20.5)));
    });
    log.put(PackVoltage, [c = log.of(PackCurrent)](double t) { return resting - 0.02 * c(t); });
    log.drop(Output).drop(MotorSpeed);
    for (double cutoff = 3.2; cutoff < 4.1; cutoff += 0.05)
        EXPECT_FALSE(findingOf(review(log, cutoff), "cutoff-acted")) << cutoff;
}

// Between the last sample with power and the first without the car still gains speed.
TEST(Cutoff, isSeenThoughTheCarGainedSpeedUntilTheInstantItActed) {
    HandLog log = taken(22.04, 24.0, 0.02);
    log.change(MotorSpeed, [](double t, double was) { return t > 22.04 && t < 24.0 ? was + 60.0 : was; });
    log.drop(Output);
    const LogReview found = review(log, there);
    ASSERT_TRUE(findingOf(found, "cutoff-acted"));
    EXPECT_NEAR(findingOf(found, "cutoff-acted")->from, 22.0, 0.051);
}

// The current declines by itself as the car gains speed; its fall begins where it was taken.
TEST(Cutoff, beginsWhereTheCurrentWasTakenAtAnyRate) {
    for (const double rate : {10.0, 20.0, 50.0})
        for (const bool blind : {false, true}) {
            HandLog log = taken(21.0, 24.0, 0.05);
            log.drop(Output).sampled(rate);
            if (blind) log.drop(MotorSpeed);
            ReviewOptions options;
            options.cutoffCell = cellAt(21.0);
            const LogReview found = reviewLog(log.build(), options);
            ASSERT_TRUE(findingOf(found, "cutoff-acted")) << rate << blind;
            EXPECT_NEAR(findingOf(found, "cutoff-acted")->from, 21.0, 1.1 / rate) << rate << blind;
            EXPECT_NEAR(findingOf(found, "cutoff-acted")->to, 24.0, 1.1 / rate) << rate << blind;
        }
}

TEST(Cutoff, withNeitherOutputNorCurrentIsNotJudged) {
    const LogReview blind = review(weakPass().drop(Output).drop(PackCurrent).drop(RippleVoltage), there);
    EXPECT_TRUE(notJudged(blind, "cutoff-acted"));
    EXPECT_FALSE(notJudged(review(taken(22.0, 25.0, 0.5).drop(Output), there), "cutoff-acted"));
}

// Voltage that a soft cutoff holds: the output wanders under the throttle.
HandLog lying(double cutoff, std::function<double(double)> output) {
    HandLog log = goodPass();
    const auto held = [](double t) { return t > 21.0 && t < 23.0; };
    log.change(PackVoltage, [=](double t, double was) { return held(t) ? cells * cutoff + wobble(t, 0.1) : was; });
    log.change(Output, [=](double t, double was) { return held(t) ? output(t) : was; });
    return log;
}

TEST(Cutoff, isSeenWhereVoltageLiesAtItAndTheOutputIsHeld) {
    const auto wanders = [](double t) { return 0.93 + 0.02 * std::sin(5.0 * t); };
    const LogReview found = review(lying(3.5, wanders), 3.5);
    ASSERT_TRUE(findingOf(found, "cutoff-acted"));
    EXPECT_NEAR(findingOf(found, "cutoff-acted")->from, 21.0, 0.1);
    EXPECT_NEAR(findingOf(found, "cutoff-acted")->to, 23.0, 0.1);
    // As a pack that a regulator holds at the voltage while the car gains speed: the output rises, but with a kink.
    const auto rises = [](double t) { return 0.75 + 0.1 * (t - 21.0); };
    EXPECT_TRUE(findingOf(review(lying(3.5, rises), 3.5), "cutoff-acted"));
}

// At ten samples a second a quarter of the rows near the cutoff lie on the way there.
TEST(Cutoff, isSeenWhereTheWayThereLiesNearItToo) {
    HandLog log = goodPass();
    log.sampled(10.0);
    log.change(Output, [](double t, double was) {
        return t < 21.0 ? std::clamp(0.84 * (t - opens), 0.0, was) : std::min(was, 0.84 + 0.123 * (t - 21.0));
    });
    log.change(PackVoltage, [](double t, double was) {
        if (t < 20.8 || t > 22.3) return was;
        return cells * (t < 21.0 ? 3.5 + 0.24 * (21.0 - t) : 3.5 + wobble(t, 0.002));
    });
    EXPECT_TRUE(findingOf(review(log, 3.5), "cutoff-acted"));
}

// Held to the last digit of the log for two seconds: that is the regulator, not a sensor that is stuck.
TEST(Cutoff, voltageThatItHoldsStillIsNoStuckSensor) {
    const auto rises = [](double t) { return 0.75 + 0.1 * (t - 21.0); };
    HandLog log = lying(3.5, rises);
    log.change(PackVoltage, [](double t, double was) { return t > 21.0 && t < 23.0 ? cells * 3.5 : was; });
    const LogReview held = review(log, 3.5);
    EXPECT_TRUE(findingOf(held, "cutoff-acted"));
    EXPECT_FALSE(findingOf(held, "sensor-fault"));
    EXPECT_FALSE(findingOf(review(log), "sensor-fault")) << "nobody told the cutoff";
    EXPECT_TRUE(findingOf(review(log, 3.2), "sensor-fault")) << "far from the cutoff";
}

// A limit of the controller lets the output rise while the voltage sinks past the cutoff.
TEST(Cutoff, isNotVoltageThatPassesBy) {
    HandLog log = lying(3.5, [](double t) { return 0.6 + 0.15 * (t - 21.0); });
    log.change(Output, [](double t, double was) { return t <= 21.0 ? std::min(was, 0.6) : was; });
    log.change(PackVoltage,
               [](double t, double was) { return t > 21.0 && t < 23.0 ? cells * (3.58 - 0.08 * (t - 21.0)) : was; });
    EXPECT_FALSE(findingOf(review(log, 3.5), "cutoff-acted"));
}

TEST(Cutoff, isNotAnEndpointAndNotARamp) {
    HandLog endpoint = lying(3.5, [](double) { return 0.95; });
    endpoint.change(Output, [](double, double was) { return std::min(was, 0.95); });
    const LogReview steady = review(endpoint, 3.5);
    EXPECT_FALSE(findingOf(steady, "cutoff-acted"));
    EXPECT_TRUE(findingOf(steady, "output-below-full"));
    HandLog ramp = goodPass();
    ramp.change(Output, [](double t, double was) { return std::min(was, std::max(0.0, (t - opens) / 2.5)); });
    ramp.change(PackVoltage, [](double t, double was) { return t > 21.0 && t < 22.2 ? cells * 3.5 : was; });
    const LogReview slow = review(ramp, 3.5);
    EXPECT_FALSE(findingOf(slow, "cutoff-acted"));
    EXPECT_TRUE(findingOf(slow, "throttle-slow"));
}

TEST(Cutoff, isPassedWhereNothingIsTakenUnderIt) {
    HandLog log = goodPass();
    const auto under = [&](double cell, double to) {
        HandLog changed = log;
        changed.change(PackVoltage, [=](double t, double was) { return t > 22.0 && t < to ? cells * cell : was; });
        return changed;
    };
    const LogReview passed = review(under(3.44, 23.2), 3.5);
    ASSERT_TRUE(findingOf(passed, "cutoff-passed"));
    EXPECT_EQ(findingOf(passed, "cutoff-passed")->severity, Severity::Note);
    EXPECT_FALSE(findingOf(passed, "cutoff-acted"));
    EXPECT_FALSE(findingOf(review(under(3.46, 23.2), 3.5), "cutoff-passed"));
    EXPECT_FALSE(findingOf(review(under(3.44, 22.8), 3.5), "cutoff-passed"));
    const LogReview untold = review(under(3.44, 23.2));
    EXPECT_FALSE(findingOf(untold, "cutoff-passed"));
    EXPECT_FALSE(notJudged(untold, "cutoff-passed")); // nothing to judge
}

TEST(Cutoff, saysWhatItCostByThePlan) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->controller.cutoff = {CutoffMode::Soft, 3.75, 0.5};
    options.cutoffCell = there;
    const LogReview found = reviewLog(taken(22.0, 24.0, 0.5).build(), options);
    ASSERT_TRUE(findingOf(found, "cutoff-acted"));
    EXPECT_THAT(textOf(findingOf(found, "cutoff-acted")->seen), testing::HasSubstr("m/s"));
}

} // namespace
} // namespace rw
