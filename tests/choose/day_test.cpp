// A day's passes against the plan's own repeats.
#include "core/choose/day.h"

#include "core/error.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rw::testing {

namespace {

TEST(DayOfPasses, CountsAndPeaksAreThoseOfThePlanWithThatWait) {
    for (const PlanInput& sample : samplePlans()) {
        for (const DayRow& row : dayOfPasses(sample, {.passes = 20, .waits_s = {0.0, 120.0, 900.0}, .work = {}}).rows) {
            SCOPED_TRACE(row.wait_s);
            PlanInput plan = sample;
            plan.drive.turn_around_s = row.wait_s;
            plan.drive.passes = std::max(1, row.passes);
            const PlanResult result = simulatePlan(plan);
            EXPECT_EQ(row.passes, result.passesUntilLimit);
            double winding = -1e9, motorCase = -1e9;
            for (const PassResult& pass : result.passes) {
                winding = std::max(winding, pass.windingPeak);
                motorCase = std::max({motorCase, pass.casePeak, pass.caseSoakPeak});
            }
            EXPECT_EQ(row.windingPeak, winding);
            EXPECT_EQ(row.casePeak, motorCase);
            EXPECT_EQ(row.limit.has_value(), row.passes < 20);
        }
    }
}

TEST(DayOfPasses, LongerWaitsNeverAllowFewerPassesUntilThePackIsEmpty) {
    const DayResult day = dayOfPasses(heavyCar());
    EXPECT_EQ(day.rows.size(), 12U);
    for (std::size_t i = 1; i < day.rows.size(); ++i)
        EXPECT_TRUE(day.rows[i].limit == "end_charge" || day.rows[i].passes >= day.rows[i - 1].passes);
}

TEST(DayOfPasses, OutOfRangeIsRefused) {
    EXPECT_THROW(static_cast<void>(dayOfPasses(heavyCar(), {.passes = 0, .waits_s = {}, .work = {}})), InputError);
    EXPECT_THROW(static_cast<void>(dayOfPasses(heavyCar(), {.passes = 3, .waits_s = {-1.0}, .work = {}})), InputError);
}

} // namespace

} // namespace rw::testing
