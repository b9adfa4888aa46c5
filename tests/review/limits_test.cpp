// Power held back by a limit of current or by heat, and what only looks like it.
#include "core/units.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <cmath>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

constexpr double resting = 16.72, ohm = 0.012;

// Current as given while the throttle is open; voltage follows it.
HandLog drawing(const std::function<double(double)>& amperes) {
    HandLog log = goodPass();
    log.put(PackCurrent, [=](double t) {
        const bool open = t >= opens && t < closes;
        return (open ? std::max(0.4, amperes(t)) : 0.4) + wobble(t, 0.2);
    });
    log.put(PackVoltage, [c = log.of(PackCurrent)](double t) { return resting - ohm * c(t); });
    return log;
}

// Creeps up to 90 A over two seconds, is held there for one and a half, and falls as the car nears its top speed.
double creeping(double t) {
    if (t < 22.0) return 45.0 * (t - opens);
    return t < 23.5 ? 90.0 : 90.0 - 20.0 * (t - 23.5);
}

TEST(CurrentLimited, isSeenHoweverSlowlyTheLimitIsReached) {
    HandLog log = drawing(creeping);
    log.change(Output, [](double t, double was) {
        if (t < 22.0 || t >= closes) return was;
        return t < 23.5 ? 1.0 - 0.12 * (t - 22.0) - 0.05 : std::min(1.0, 0.77 + 0.5 * (t - 23.5));
    });
    const LogReview review = reviewLog(log.build());
    const Finding* found = findingOf(review, "current-limited");
    ASSERT_TRUE(found) << testing::PrintToString(idsOf(review));
    EXPECT_EQ(found->severity, Severity::Note);
    EXPECT_NEAR(found->from, 22.0, 0.15);
    EXPECT_NEAR(found->to, 23.5, 0.2);
    EXPECT_FALSE(findingOf(review, "output-below-full"));
    EXPECT_FALSE(findingOf(review, "throttle-slow"));
    EXPECT_FALSE(findingOf(review, "sensor-fault"));
}

TEST(CurrentLimited, isNotAnEndpointThatStaysWhereItIs) {
    HandLog log = drawing(creeping);
    log.change(Output, [](double, double was) { return std::min(was, 0.9); });
    const LogReview review = reviewLog(log.build());
    EXPECT_FALSE(findingOf(review, "current-limited"));
    EXPECT_TRUE(findingOf(review, "output-below-full"));
    // It moves while the current is held, but stays put once that is a tenth lower: an endpoint with a late start.
    log.change(Output, [](double t, double was) { return t < 22.6 ? std::min(was, 0.5 + 0.15 * (t - opens)) : was; });
    EXPECT_FALSE(findingOf(reviewLog(log.build()), "current-limited"));
}

TEST(CurrentLimited, needsVoltageToSpare) {
    const auto held = [](double cutoff) {
        HandLog log = drawing(creeping);
        log.change(Output, [](double t, double was) {
            if (t < 22.0 || t >= closes) return was;
            return t < 23.5 ? 0.95 - 0.12 * (t - 22.0) : std::min(1.0, 0.77 + 0.5 * (t - 23.5));
        });
        ReviewOptions options;
        options.cutoffCell = cutoff;
        return reviewLog(log.build(), options);
    };
    // At 90 A a cell has 3.91 V.
    EXPECT_TRUE(findingOf(held(3.73), "current-limited"));
    EXPECT_FALSE(findingOf(held(3.78), "current-limited"));
}

TEST(CurrentLimited, isNotTheRoundTopOfASlowRamp) {
    // Speed catches up with the output: the current's top is round, and flat within 3 % for more than half a second.
    HandLog log = drawing([](double t) { return 95.0 - 12.0 * (t - 22.0) * (t - 22.0); });
    log.change(Output, [](double t, double was) { return std::min(was, std::max(0.0, (t - opens) / 3.0)); });
    const LogReview review = reviewLog(log.build());
    EXPECT_FALSE(findingOf(review, "current-limited"));
    EXPECT_TRUE(findingOf(review, "throttle-slow"));
}

// Output that gives way from 23 s on by `slope` a second, down to `least`; the load goes with it.
HandLog givingWay(double slope, double least, double motor_C) {
    HandLog log = goodPass();
    const auto share = [=](double t) {
        return t > 23.0 && t < closes ? std::max(least, 1.0 - slope * (t - 23.0)) : 1.0;
    };
    log.change(Output, [=](double t, double was) { return was * share(t); });
    log.change(PackCurrent, [=](double t, double was) { return was * (3.0 * share(t) - 2.0); });
    log.put(PackVoltage, [c = log.of(PackCurrent)](double t) { return resting - ohm * c(t); });
    log.put(MotorTemperature, [=](double t) {
        return kelvinFromCelsius(motor_C) + std::clamp(t - 23.0, -3.0, 3.0) - 0.02 * std::max(0.0, t - closes);
    });
    return log;
}

TEST(HeatLimited, isSeenBelowComfortAndSaysTheTemperatureAtTheStart) {
    const LogReview review = reviewLog(givingWay(0.1, 0.8, 61.0).build());
    const Finding* found = findingOf(review, "heat-limited");
    ASSERT_TRUE(found) << testing::PrintToString(idsOf(review));
    EXPECT_EQ(found->severity, Severity::Watch);
    EXPECT_NEAR(found->from, 23.05, 0.15);
    EXPECT_NEAR(found->to, closes, 0.1);
    EXPECT_THAT(textOf(found->seen), testing::HasSubstr("motor at 61."));
    EXPECT_FALSE(findingOf(review, "output-below-full"));
}

TEST(HeatLimited, isSlow) { EXPECT_FALSE(findingOf(reviewLog(givingWay(1.0, 0.8, 61.0).build()), "heat-limited")); }

TEST(HeatLimited, needsFivePointsAndSomethingThatHeatsUp) {
    EXPECT_FALSE(findingOf(reviewLog(givingWay(0.1, 0.96, 61.0).build()), "heat-limited"));
    HandLog cool = givingWay(0.1, 0.8, 61.0);
    for (const Quantity q : {MotorTemperature, ControllerTemperature})
        cool.put(q, [](double t) { return 300.0 - 0.01 * t; });
    EXPECT_FALSE(findingOf(reviewLog(cool.build()), "heat-limited"));
}

TEST(HeatLimited, isNotTheCutoff) {
    ReviewOptions options;
    // At 23 s a cell has 4.04 V: heat needs 0.15 V to spare, and relief of the pack.
    options.cutoffCell = 3.88;
    EXPECT_TRUE(findingOf(reviewLog(givingWay(0.1, 0.8, 61.0).build(), options), "heat-limited"));
    options.cutoffCell = 3.92;
    EXPECT_FALSE(findingOf(reviewLog(givingWay(0.1, 0.8, 61.0).build(), options), "heat-limited"));
    HandLog sagging = givingWay(0.1, 0.8, 61.0);
    sagging.change(PackVoltage,
                   [](double t, double was) { return t > 23.0 && t < closes ? was - 0.5 * (t - 23.0) : was; });
    EXPECT_FALSE(findingOf(reviewLog(sagging.build()), "heat-limited"));
}

TEST(OutputBelowFull, isOutputThatStandsThereNotOneThatRisesThrough) {
    const auto found = [](const std::function<double(double)>& output) {
        HandLog log = goodPass();
        log.change(Output, [=](double t, double was) { return std::min(was, output(t)); });
        return findingOf(reviewLog(log.build()), "output-below-full") != nullptr;
    };
    EXPECT_FALSE(found([](double t) { return 0.9 + 0.02 * (t - 20.4); })); // a point in half a second
    EXPECT_TRUE(found([](double t) { return t < 22.0 ? 0.92 : 1.0; }));
    EXPECT_TRUE(found([](double) { return 0.98; }));
}

// A limit of current that the plan sets holds the output for less than half a second.
TEST(OutputBelowFull, isNotSaidWhereThePlansLimitOfCurrentActs) {
    const auto held = [](double t) { return t > 20.5 && t < 20.95; };
    HandLog log = drawing([=](double t) { return held(t) ? 90.0 : 40.0; });
    log.change(Output, [=](double t, double was) { return held(t) ? 0.92 : was; });
    ReviewOptions options;
    options.plan = handPlan();
    EXPECT_TRUE(findingOf(reviewLog(log.build(), options), "output-below-full"));
    options.plan->controller.pack_current_limit_A = 90.0;
    EXPECT_FALSE(findingOf(reviewLog(log.build(), options), "output-below-full"));
}

TEST(ThrottleSlow, isJudgedByTheThrottleAlone) {
    HandLog log = goodPass();
    log.put(Throttle, [](double t) { return t < opens || t >= closes ? 0.0 : std::min(1.0, (t - opens) / 2.5); });
    log.drop(Output);
    const LogReview review = reviewLog(log.build());
    ASSERT_TRUE(findingOf(review, "throttle-slow"));
    EXPECT_FALSE(notJudged(review, "throttle-slow"));
}

TEST(ThrottleSlow, isJudgedThoughTheCutoffActsLater) {
    HandLog log = goodPass();
    log.change(Output, [](double t, double was) { return std::min(was, std::max(0.0, (t - opens) / 2.5)); });
    log.change(Output, [](double t, double was) { return t > 24.0 && t < 25.0 ? 0.8 * was : was; });
    log.change(PackVoltage, [](double t, double was) { return t > 23.9 && t < 25.0 ? 4.0 * 3.42 : was; });
    ReviewOptions options;
    options.cutoffCell = 3.4;
    const LogReview review = reviewLog(log.build(), options);
    EXPECT_TRUE(findingOf(review, "cutoff-acted"));
    EXPECT_TRUE(findingOf(review, "throttle-slow"));
}

} // namespace
} // namespace rw
