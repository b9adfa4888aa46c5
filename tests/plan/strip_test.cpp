// The strip's segments lie end to end, and their ends are the plan's own figures.
#include "core/plan/strip.h"

#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

namespace rw::testing {

TEST(Strip, SegmentsLieEndToEndUpToTheEnd) {
    for (PlanInput input : samplePlans()) {
        for (const double length :
             {input.venue.length_m, 1.02 * (input.venue.run_up_m + input.venue.timed_m), 1500.0}) {
            input.venue.length_m = length;
            const PlanResult result = simulatePlan(input);
            const StripMarks marks = stripMarks(input, result);
            EXPECT_EQ(marks.stop, result.passes.front().stopAt);
            const auto segments = stripSegments(marks);
            ASSERT_GE(segments.size(), 3U);
            EXPECT_EQ(segments.front().from, 0.0);
            for (std::size_t i = 1; i < segments.size(); ++i)
                EXPECT_NEAR(segments[i].from, segments[i - 1].to, 0.5); // short stretches are left out
            EXPECT_NEAR(segments.back().to, std::max(marks.stop, marks.end), 0.5);
            EXPECT_EQ(segments.back().kind == StripKind::Beyond, marks.stop > marks.end + 0.5);
        }
    }
}

TEST(Strip, BrakingBeginsAfterTheReactionTime) {
    const PlanInput input = lightCar();
    const PlanResult result = simulatePlan(input);
    const PassResult& pass = result.passes.front();
    const StripMarks marks = stripMarks(input, result);
    ASSERT_TRUE(marks.brakeFrom);
    double seen = 0.0; // where the trace first brakes
    (void)simulatePass(passSetup(input), startState(input), {}, [&](const Instant& now) {
        if (now.phase == Phase::Brake && seen == 0.0) seen = now.distance;
    });
    EXPECT_NEAR(*marks.brakeFrom, seen, 1e-6 * pass.stopAt);
}

} // namespace rw::testing
