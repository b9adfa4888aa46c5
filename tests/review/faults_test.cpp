// Spans in which a sensor lies, and what only looks like it.
#include "core/units.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <cmath>
#include <random>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

std::vector<FaultSpan::Kind> kinds(const LogReview& review) {
    std::vector<FaultSpan::Kind> found;
    for (const FaultSpan& fault : review.faults)
        found.push_back(fault.kind);
    return found;
}

TEST(Faults, aChannelThatRunsIntoItsEndForOverASecondIsClippedNotStuck) {
    HandLog log = goodPass();
    // Rises by a few amperes a sample, meets the sensor's end at 70 A, and stays there for two seconds.
    log.put(PackCurrent, [t0 = log.of(Throttle)](double t) {
        return t0(t) > 0.0 ? 10.0 + std::min(60.0, 35.0 * (t - opens)) * (t < 23.7 ? 1.0 : std::exp(23.7 - t)) +
                                 (t > 21.7 && t < 23.7 ? 0.0 : wobble(t, 0.5))
                           : 0.4 + wobble(t, 0.2);
    });
    const LogReview review = reviewLog(log.build());
    EXPECT_THAT(kinds(review), testing::ElementsAre(FaultSpan::Kind::Clipped));
    const Finding* found = findingOf(review, "sensor-fault");
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->from, 21.7, 0.15);
    EXPECT_NEAR(found->to, 23.7, 0.15);
}

TEST(Faults, aSpeedThatSettlesInACoarseColumnIsNotClipped) {
    HandLog log = goodPass();
    // Smooth, 100 rpm a step, and at its top for the last ten of twelve seconds.
    log.put(
        MotorSpeed,
        [](double t) {
            const double since = std::clamp(t - opens, 0.0, 5.9);
            return t < closes ? 4200.0 * (1.0 - std::exp(-since / 0.6)) : std::max(0.0, 4200.0 - 700.0 * (t - closes));
        },
        100.0 * radpsPerRpm);
    EXPECT_THAT(kinds(reviewLog(log.build())), testing::IsEmpty());
}

TEST(Faults, aVoltageThatRestsOnItsLargestValueIsNotClipped) {
    HandLog log = goodPass();
    log.put(PackCurrent,
            [c = log.of(Throttle)](double t) { return 0.4 + 80.0 * c(t) + (c(t) > 0.0 ? wobble(t, 4.0) : 0.0); });
    log.put(
        PackVoltage, [c = log.of(PackCurrent)](double t) { return 16.72 - 0.012 * c(t); }, 0.01);
    EXPECT_THAT(kinds(reviewLog(log.build())), testing::IsEmpty());
}

TEST(Faults, aCurrentThatTheControllerHoldsFlatIsNotClipped) {
    HandLog log = goodPass();
    const auto held = [](double t) { return t > 20.5 && t < 23.0; };
    log.change(PackCurrent, [=](double t, double was) { return held(t) ? 90.0 : std::min(was, 90.0); });
    log.change(Output, [=](double t, double was) { return held(t) ? 0.6 + 0.16 * (t - 20.5) : was; });
    const LogReview review = reviewLog(log.build());
    EXPECT_THAT(kinds(review), testing::IsEmpty());
    EXPECT_TRUE(findingOf(review, "current-limited"));
}

// Whole degrees, twenty times a second: one digit in one sample is 20 °C/s, three are 60.
TEST(Faults, aTemperatureJumpsByMoreThanTwoStepsOfItsColumn) {
    const auto jump = [](double degrees) {
        HandLog log = goodPass();
        log.put(
            MotorTemperature,
            [=](double t) {
                return 300.0 + (t > opens ? 5.0 : 0.0) * (1.0 - std::exp(-(t - opens) / 8.0)) +
                       (t > 40.01 && t < 40.09 ? degrees : 0.0);
            },
            1.0);
        Log built = log.build();
        built[MotorTemperature].interval_s = 0.05;
        return reviewLog(built);
    };
    EXPECT_FALSE(findingOf(jump(2.0), "sensor-fault"));
    EXPECT_TRUE(findingOf(jump(3.0), "sensor-fault"));
}

TEST(Faults, aFineColumnNeedsFiftyDegreesASecond) {
    const auto jump = [](double degrees) {
        HandLog log = goodPass();
        log.change(MotorTemperature, [=](double t, double was) {
            return was + wobble(t, 0.02) + (t > 40.01 && t < 40.09 ? degrees : 0.0);
        });
        return reviewLog(log.build());
    };
    EXPECT_FALSE(findingOf(jump(2.3), "sensor-fault")); // in 0.05 s
    EXPECT_TRUE(findingOf(jump(2.7), "sensor-fault"));
}

// Noise of half a step at 100 samples a second: most samples do not change, one in some thousand jumps by three steps.
TEST(Faults, noiseOfLessThanAStepIsNoJump) {
    const auto found = [](double degrees) {
        HandLog log = goodPass();
        log.put(
            MotorTemperature,
            [=](double t) {
                std::mt19937 random(static_cast<std::uint32_t>(std::llround(1000.0 * t)));
                return 300.0 + std::normal_distribution(0.0, 0.1)(random) + (t > 40.005 && t < 40.025 ? degrees : 0.0);
            },
            0.2);
        return findingOf(reviewLog(log.sampled(100.0).build()), "sensor-fault") != nullptr;
    };
    EXPECT_FALSE(found(0.0));
    EXPECT_TRUE(found(2.0));
}

// Whole degrees that stand for seconds make a sensor look slow; one that is back in the next sample is not.
TEST(Faults, aReadingThatIsBackAtOnceHadNoTimeToGetThere) {
    const auto found = [](double degrees, double until) {
        HandLog log = goodPass();
        log.change(MotorTemperature, [=](double t, double was) {
            return std::round(was - 273.15) + 273.15 + (t > 60.01 && t < until ? degrees : 0.0);
        });
        Log built = log.build();
        built[MotorTemperature].step = 1.0;
        built[MotorTemperature].interval_s = 1.5; // of its changes
        return findingOf(reviewLog(built), "sensor-fault") != nullptr;
    };
    EXPECT_TRUE(found(8.0, 60.09));
    EXPECT_FALSE(found(2.0, 60.09)) << "two steps";
    EXPECT_FALSE(found(8.0, 64.0)) << "a sensor that reads seldom may have warmed up meanwhile";
    EXPECT_TRUE(found(30.0, 64.0)) << "but not by so much";
}

TEST(Faults, aTemperatureThatWasHeldOverAHoleMayHaveMovedMeanwhile) {
    HandLog log = goodPass();
    log.sampled(100.0);
    log.change(MotorTemperature, [before = log.of(MotorTemperature)](double t, double was) {
        return (t > 22.0 && t < 22.9 ? before(22.0) : was) + (t > 22.0 && t < 22.9 ? 0.0 : wobble(t, 0.02));
    });
    EXPECT_FALSE(findingOf(reviewLog(log.build()), "sensor-fault"));
}

// Another pack is another temperature.
TEST(Faults, aTemperatureMayJumpWhereAnotherSessionBegins) {
    HandLog log = goodPass();
    log.change(PackTemperature, [](double t, double was) { return t < 60.0 ? was + 20.0 : was; });
    log.put(SessionMark, [](double t) { return t < 60.0 ? 0.0 : 1.0; });
    const LogReview review = reviewLog(log.build());
    EXPECT_EQ(review.sessions.size(), 2U);
    EXPECT_FALSE(findingOf(review, "sensor-fault"));
    log.drop(SessionMark);
    EXPECT_TRUE(findingOf(reviewLog(log.build()), "sensor-fault"));
}

} // namespace
} // namespace rw
