// What findings say and advise beyond being there or not, and what keeps one from being said.
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <functional>

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
    const auto seen = [](double factor) {
        HandLog log = goodPass();
        log.put(Speed, [=, s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 / factor; });
        ReviewOptions options;
        options.plan = handPlan();
        options.plan->gears.pinions = {18, 20};
        const LogReview review = reviewLog(log.build(), options);
        const Finding* found = findingOf(review, "ratio-changed");
        return found ? textOf(found->seen) : std::string();
    };
    EXPECT_THAT(seen(20.0 / 18.0), testing::HasSubstr("pinion 18 with spur 80 of the plan's gears"));
    EXPECT_THAT(seen(20.0 / 23.0), testing::HasSubstr("a pinion of 23 teeth"));
    EXPECT_THAT(seen(20.0 / 23.0), testing::HasSubstr("none of the plan's gears"));
    EXPECT_THAT(seen(3.1), testing::HasSubstr("axle's own ratio"));
}

} // namespace
} // namespace rw
