// Sketched passes against the full ones, which are checked against SUNDIALS and for convergence elsewhere.
#include "core/plan/plan.h"
#include "core/plan/plan_figures.h"
#include "tests/plan/random_plan.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

constexpr double sketchError = 1e-5; // what people read has four digits

// What an error is a share of. When a soak peaks says little where that is at once: then of a second.
double sizeOf(const PlanFigure& figure, double value) {
    return std::max(std::abs(value), figure.key == "case_soak_peak_after_s" ? 1.0 : 1e-3);
}

TEST(Sketch, EveryFigureOf500RandomPlansIsWithinOneInAHundredThousandOfTheFullOne) {
    SeededUniform random(77);
    for (int i = 0; i < 500; ++i) {
        const PlanInput plan = plausiblePlan(random);
        SCOPED_TRACE(i);
        const PassSetup setup = passSetup(plan);
        const PassResult full = simulatePass(setup, startState(plan));
        const PassResult sketch = simulatePass(setup, startState(plan), {sketchPrecision});
        EXPECT_EQ(sketch.completed, full.completed);
        for (const PlanFigure& figure : planFigures()) {
            const auto exact = figure.get(plan, full), found = figure.get(plan, sketch);
            ASSERT_EQ(found.has_value(), exact.has_value()) << figure.key;
            if (!exact) continue;
            EXPECT_NEAR(*found, *exact, sketchError * sizeOf(figure, *exact)) << figure.key;
        }
    }
}

} // namespace

} // namespace rw::testing
