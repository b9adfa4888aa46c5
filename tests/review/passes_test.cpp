// core/review/README.md: where passes begin and end.
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

// Throttle by hand over the good pass's car: current and speed follow it.
HandLog driven(Course throttle) {
    HandLog log = goodPass();
    const auto current = [=](double t) { return 0.4 + wobble(t, 0.1) + 90.0 * throttle(t); };
    log.put(Throttle, throttle).put(Output, throttle).put(PackCurrent, current);
    log.put(PackVoltage, [=](double t) { return 16.7 - 0.012 * current(t); });
    log.put(MotorSpeed, [=](double t) { return 4000.0 * throttle(t); });
    return log;
}
Course box(double from, double to, double height = 1.0, double before = 0.0) {
    return [=](double t) { return t >= from - 1e-9 && t < to - 1e-9 ? height : before; };
}

TEST(Passes, beginAtTheLastClosedSampleAndEndAtTheFirst) {
    const LogReview review = reviewLog(goodPass().build());
    ASSERT_EQ(review.passes.size(), 1U);
    // 5 % of the throttle's cubic lies at 0.0676 of its half second: the sample at 20.05 s is over it, those at 20 s is
    // not.
    EXPECT_NEAR(review.passes[0].start, 20.05, 0.0501);
    EXPECT_NEAR(review.passes[0].end, 26.0, 1e-9);
    EXPECT_TRUE(review.passes[0].complete);
    const LogReview step = reviewLog(driven(box(20.0, 25.0)).build());
    ASSERT_EQ(step.passes.size(), 1U);
    EXPECT_NEAR(step.passes[0].start, 19.95, 1e-9);
    EXPECT_NEAR(step.passes[0].end, 25.0, 1e-9);
}

TEST(Passes, needHalfASecond) {
    EXPECT_EQ(reviewLog(driven([](double t) { return box(20.0, 20.5)(t) + box(40.0, 45.0)(t); }).build()).passes.size(),
              1U);
    EXPECT_EQ(
        reviewLog(driven([](double t) { return box(20.0, 20.55)(t) + box(40.0, 45.0)(t); }).build()).passes.size(), 2U);
}

TEST(Passes, need60PercentOfTheLargestThrottle) {
    EXPECT_EQ(
        reviewLog(driven([](double t) { return box(20.0, 23.0, 0.59)(t) + box(40.0, 45.0)(t); }).build()).passes.size(),
        1U);
    EXPECT_EQ(
        reviewLog(driven([](double t) { return box(20.0, 23.0, 0.62)(t) + box(40.0, 45.0)(t); }).build()).passes.size(),
        2U);
    // And 30 % at least, whatever the largest is.
    EXPECT_EQ(reviewLog(driven(box(20.0, 25.0, 0.29)).build()).passes.size(), 0U);
}

TEST(Passes, needPower) {
    HandLog stand = goodPass(); // full throttle with the wheels off the ground
    stand.put(PackCurrent, [throttle = stand.of(Throttle)](double t) { return 0.4 + 3.0 * throttle(t); });
    const LogReview review = reviewLog(stand.build());
    EXPECT_TRUE(review.passes.empty());
    ASSERT_FALSE(review.notes.empty());
    EXPECT_THAT(review.notes[0], testing::HasSubstr("No pass was found: largest throttle 100 %"));
}

TEST(Passes, lessThanASecondApartAreOne) {
    const auto two = [](double apart) {
        return reviewLog(
                   driven([=](double t) { return box(20.0, 23.0)(t) + box(23.0 + apart, 26.0 + apart)(t); }).build())
            .passes.size();
    };
    // From the first closed sample at 23 s to the last closed one before the second: apart − 0.05 s.
    EXPECT_EQ(two(0.95), 1U);
    EXPECT_EQ(two(1.1), 2U);
}

TEST(Passes, aRollingStartBeginsWhereTheHeldThrottleIsLeft) {
    const auto rolling = [](double level, double held) {
        return reviewLog(driven([=](double t) {
                             return t >= 20.0 && t < 25.0 ? 1.0 : t >= 20.0 - held && t < 20.0 ? level : 0.0;
                         }).build());
    };
    EXPECT_NEAR(rolling(0.20, 1.5).passes.at(0).start, 19.95, 1e-9);
    EXPECT_NEAR(rolling(0.20, 0.8).passes.at(0).start, 19.15, 1e-9); // not held for over a second
    EXPECT_NEAR(rolling(0.45, 1.5).passes.at(0).start, 18.45, 1e-9); // over 40 %
}

TEST(Passes, areByPowerWhereNeitherThrottleNorOutputIsThere) {
    HandLog log = driven(box(20.0, 25.0));
    log.drop(Throttle).drop(Output);
    const LogReview review = reviewLog(log.build());
    ASSERT_EQ(review.passes.size(), 1U);
    EXPECT_NEAR(review.passes[0].start, 19.95, 1e-9);
    EXPECT_NEAR(review.passes[0].end, 25.0, 1e-9);
}

TEST(Passes, byOutputWhereThereIsNoThrottle) {
    HandLog log = driven(box(20.0, 25.0));
    log.drop(Throttle);
    EXPECT_EQ(reviewLog(log.build()).passes.size(), 1U);
}

TEST(Passes, cutByTheLogsEndAreNotComplete) {
    const LogReview review = reviewLog(goodPass().lasts(23.0).build());
    ASSERT_EQ(review.passes.size(), 1U);
    EXPECT_FALSE(review.passes[0].complete);
    EXPECT_NEAR(review.passes[0].end, 23.0, 1e-9);
}

TEST(Passes, editsAddMoveAndRemove) {
    const Log log = goodPass().build();
    ReviewOptions options;
    options.edits.removedPasses = {{410, 500}};
    EXPECT_TRUE(reviewLog(log, options).passes.empty());
    options.edits = {};
    options.edits.addedPasses = {{1002, 1062}};
    const LogReview added = reviewLog(log, options);
    ASSERT_EQ(added.passes.size(), 2U);
    EXPECT_EQ(added.passes[1].startRow, 1000U);
    EXPECT_EQ(added.passes[1].endRow, 1060U);
    options.edits = {};
    options.edits.movedPasses = {{{410, 500}, {422, 502}}};
    const LogReview moved = reviewLog(log, options);
    ASSERT_EQ(moved.passes.size(), 1U);
    EXPECT_EQ(moved.passes[0].startRow, 420U);
}

TEST(Thresholds, areTheOwnersToSet) {
    ReviewOptions options;
    setThreshold(options.thresholds, "passSpan", 7.0);
    EXPECT_TRUE(reviewLog(goodPass().build(), options).passes.empty());
    for (const ThresholdField& field : thresholdFields()) {
        EXPECT_FALSE(field.reason.empty()) << field.name;
        EXPECT_EQ(ReviewThresholds{}.*(field.value), field.defaultValue) << field.name;
    }
}

} // namespace
} // namespace rw
