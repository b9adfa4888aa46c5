// What findings say and advise beyond being there or not, and what keeps one from being said.
#include "core/plan/plan.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

// A regulator at 3.4 V per cell: the output rises only as the car gains speed, the voltage lies still.
TEST(ThrottleSlow, isNotSaidOfAnOutputThatAnUntoldCutoffMayHold) {
    const auto reviewed = [](double kneeAt) {
        HandLog log = goodPass();
        log.change(Output, [=](double t, double was) {
            const double knee = 0.7, end = 2.6;
            return t > opens + kneeAt && t < closes
                       ? std::min(was, knee + (1.0 - knee) * (t - opens - kneeAt) / (end - kneeAt))
                       : std::min(was, knee / kneeAt * std::max(0.0, t - opens));
        });
        log.change(PackVoltage, [=](double t, double was) {
            return t > opens + kneeAt && t < opens + 2.6 ? 4.0 * 3.4 + wobble(t, 0.02) : was;
        });
        return reviewLog(log.build());
    };
    const LogReview held = reviewed(0.6);
    EXPECT_FALSE(findingOf(held, "throttle-slow"));
    EXPECT_FALSE(findingOf(held, "cutoff-acted"));
    EXPECT_TRUE(notJudged(held, "throttle-slow"));
    EXPECT_TRUE(findingOf(reviewed(1.82), "throttle-slow")) << "a ramp without a knee";
}

TEST(FaultySpans, countAsMissingForEveryOtherFinding) {
    HandLog log = goodPass();
    log.change(PackVoltage, [](double t, double was) { return t > 22.01 && t < 22.6 ? -1.0 : was; });
    const LogReview review = reviewLog(log.build());
    EXPECT_TRUE(findingOf(review, "sensor-fault"));
    EXPECT_FALSE(findingOf(review, "sag-deep"));
}

// Advice on a motor that is too fast, where the plan is edited so.
std::string adviceFor(const std::function<void(PlanInput&)>& edit) {
    ReviewOptions options;
    options.plan = handPlan();
    edit(*options.plan);
    const LogReview review = reviewLog(goodPass().build(), options);
    const Finding* found = findingOf(review, "motor-overspeed");
    return found ? found->advice : "";
}

// Wheel speed is motor speed over the ratio: taller gearing slows a motor and speeds up the tyres.
TEST(MotorOverspeed, advisesByTheLimitThatBroke) {
    using testing::HasSubstr;
    using testing::Not;
    const auto tyres = [](PlanInput& p) { p.tyre.max_speed_radps = 1000.0; };
    const auto motor = [](PlanInput& p) { p.motor.max_speed_rpm = 38000.0; };
    EXPECT_THAT(adviceFor(tyres), HasSubstr("shorter gearing"));
    EXPECT_THAT(adviceFor(tyres), Not(HasSubstr("taller")));
    EXPECT_THAT(adviceFor(motor), HasSubstr("gear taller"));
    EXPECT_THAT(adviceFor([=](PlanInput& p) { tyres(p), motor(p); }), HasSubstr("cannot mend both"));
}

TEST(SpeedImplausible, countsItsPairs) {
    HandLog log = goodPass();
    log.change(MotorSpeed, [](double, double was) { return 3.0 * was; });
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->motor.poles = 6;
    options.cells = {4};
    EXPECT_THAT(textOf(findingOf(reviewLog(log.build(), options), "speed-implausible")->seen),
                testing::HasSubstr("3 pole pairs"));
}

// Ground speed by another ratio, while coasting without slip.
TEST(RatioChanged, namesTheGearThatWouldExplainIt) {
    const auto seen = [](double factor, std::vector<int> spurs = {80}) {
        HandLog log = goodPass();
        log.put(Speed, [=, s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 / factor; });
        ReviewOptions options;
        options.plan = handPlan();
        options.plan->gears.pinions = {18, 20, 21};
        options.plan->gears.spurs = std::move(spurs);
        const LogReview review = reviewLog(log.build(), options);
        const Finding* found = findingOf(review, "ratio-changed");
        return found ? textOf(found->seen) : std::string();
    };
    EXPECT_THAT(seen(20.0 / 18.0), testing::HasSubstr("pinion 18 with spur 80 of the plan's gears"));
    // 21/93 is as near; one gear is changed sooner than both.
    EXPECT_THAT(seen(20.0 / 18.0, {93, 80}), testing::HasSubstr("pinion 18 with spur 80 of the plan's gears"));
    EXPECT_THAT(seen(20.0 / 18.0, {88, 80}), testing::HasSubstr("pinion 18 with spur 80 of the plan's gears"));
    EXPECT_THAT(seen(20.0 / 23.0), testing::HasSubstr("a pinion of 23 teeth"));
    EXPECT_THAT(seen(20.0 / 23.0), testing::HasSubstr("none of the plan's gears"));
    EXPECT_THAT(seen(3.1), testing::HasSubstr("axle's own ratio"));
}

// A log written from a plan's own run, after five seconds of standing.
HandLog logOfPlan(const PlanInput& plan) {
    constexpr double standing = 5.0;
    auto run = std::make_shared<std::vector<Instant>>();
    (void)simulatePass(passSetup(plan), startState(plan), {}, [&](const Instant& i) { run->push_back(i); });
    const auto course = [=](auto value) -> Course {
        return [=](double t) {
            const auto at = std::find_if(run->begin(), run->end() - 1,
                                         [&](const Instant& i) { return i.time >= t - standing - 1e-9; });
            return value(*at);
        };
    };
    HandLog log(standing + run->back().time + 5.0);
    log.put(Throttle, course([](const Instant& i) { return i.throttle; }));
    log.put(Output, course([](const Instant& i) { return i.duty; }));
    log.put(PackVoltage, course([](const Instant& i) { return i.packVoltage; }));
    log.put(PackCurrent, course([](const Instant& i) { return i.packCurrent; }));
    log.put(MotorCurrent, course([](const Instant& i) { return i.motorCurrent; }));
    log.put(MotorSpeed, course([](const Instant& i) { return i.motorSpeed; }));
    log.put(Speed, course([](const Instant& i) { return i.speed; }));
    return log;
}

// Nothing slips while a car rolls; braked, its tyres do: brush model, 0.4 of the weight on one axle of a tyre that
// slips by 20 % at its limit, 8 %. The log has no brake column, the car rolls for 0.3 s or not at all.
LogReview brakedAfter(double rolls, double factor) {
    constexpr double exitSpeed = 31.0, rolling = 4.0, braked = 8.0, slip = 0.08; // m/s, m/s²
    const auto ground = [=](double t) {
        const double since = t - closes, free = std::clamp(since, 0.0, rolls), held = std::max(0.0, since - rolls);
        return since < 0.0 ? 0.0 : std::max(0.0, exitSpeed - rolling * free - braked * held);
    };
    HandLog log = goodPass();
    const Course driven = log.of(MotorSpeed);
    log.put(Speed, [=](double t) { return t < closes ? driven(t) / 4.0 * 0.03 / factor / 1.02 : ground(t); });
    log.change(MotorSpeed, [=](double t, double was) {
        if (t < closes) return was;
        return factor * ground(t) * (t < closes + rolls ? 1.0 : 1.0 - slip) * 4.0 / 0.03;
    });
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->gears.pinions = {18, 20};
    return reviewLog(log.build(), options);
}

TEST(RatioChanged, isJudgedByWhatRollsAndNotByWhatIsBraked) {
    for (const double rolls : {0.0, 0.3}) {
        const LogReview review = brakedAfter(rolls, 1.0);
        EXPECT_FALSE(findingOf(review, "ratio-changed")) << rolls;
    }
    const LogReview changed = brakedAfter(0.3, 20.0 / 18.0);
    ASSERT_TRUE(findingOf(changed, "ratio-changed"));
    EXPECT_THAT(textOf(findingOf(changed, "ratio-changed")->seen), testing::HasSubstr("pinion 18 with spur 80"));
}

// Tyres held at 14 % of slip for most of a pass, as the plan has it, and nothing that rolls after it.
TEST(RatioChanged, isNotReadFromTheSlipThatThePlanHas) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->venue = {800.0, 300.0, 30.0, 0.0, 0.0, 0.35};
    options.plan->tyre.slip_stiffness = 3.0 * 0.35 / 0.14; // 3 μ over the slip at the edge of sliding
    options.plan->drive.reaction_s = 0.0;
    const LogReview review = reviewLog(logOfPlan(*options.plan).build(), options);
    EXPECT_FALSE(findingOf(review, "ratio-changed"));
    EXPECT_FALSE(notJudged(review, "ratio-changed"));
}

// Noise of a current sensor on the first sample after the throttle closed is no brake.
TEST(RatioChanged, takesNoNoiseForABrake) {
    HandLog log = goodPass();
    log.put(Speed, [s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 / (t < closes ? 1.12 : 1.0); });
    log.put(MotorCurrent,
            [i = log.of(PackCurrent)](double t) { return t > closes - 0.01 && t < closes + 0.04 ? -3.0 : i(t); });
    ReviewOptions options;
    options.plan = handPlan();
    EXPECT_FALSE(findingOf(reviewLog(log.build(), options), "ratio-changed"));
}

// Under power the tyres' slip is in what is read: no gear is named by it.
TEST(RatioChanged, namesNoGearByTyresThatSlip) {
    const LogReview review = brakedAfter(0.0, 20.0 / 18.0);
    ASSERT_TRUE(findingOf(review, "ratio-changed"));
    EXPECT_THAT(textOf(findingOf(review, "ratio-changed")->seen), testing::Not(testing::HasSubstr("pinion")));
}

// A tyre that can carry no more keeps output and current level for as long as the plan foretells: no limit of current
// and no slow throttle. With more grip in the plan the same log has one of them.
TEST(TyresThatCarryNoMore, areNoLimitOfCurrentAndNoSlowThrottle) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->venue = {800.0, 300.0, 30.0, 0.0, 0.0, 0.35};
    const Log log = logOfPlan(*options.plan).build();
    const LogReview asPlanned = reviewLog(log, options);
    ASSERT_EQ(asPlanned.passes.size(), 1U);
    ASSERT_GT(asPlanned.passes[0].outputRise.value_or(0.0), 1.5);
    for (const std::string_view id : {"throttle-slow", "current-limited", "ratio-changed", "off-plan"})
        EXPECT_FALSE(findingOf(asPlanned, id)) << id;
    options.plan->venue.friction = 1.4;
    const LogReview unforeseen = reviewLog(log, options);
    EXPECT_TRUE(findingOf(unforeseen, "throttle-slow") || findingOf(unforeseen, "current-limited"));
}

// A peak between two samples is not seen: at 5 samples a second less current than planned says nothing, more does.
TEST(OffPlan, takesPeaksOfASlowLogForLowerBounds) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->venue = {800.0, 150.0, 30.0, 0.0, 0.0, 0.8};
    const auto reviewed = [&](double factor, double rate) {
        HandLog log = logOfPlan(*options.plan);
        log.change(PackCurrent, [=](double, double was) { return factor * was; });
        return reviewLog(log.sampled(rate).build(), options);
    };
    EXPECT_FALSE(findingOf(reviewed(1.0, 20.0), "off-plan"));
    EXPECT_TRUE(findingOf(reviewed(0.88, 20.0), "off-plan"));
    EXPECT_FALSE(findingOf(reviewed(0.88, 5.0), "off-plan"));
    EXPECT_TRUE(findingOf(reviewed(1.5, 5.0), "off-plan"));
}

} // namespace
} // namespace rw
