// Standard errors where a day is hard to read: inputs that act almost alike, a pack at the end of its charge, a fit
// that went astray. The truth of invented days is the outside.
#include "core/learn/estimate.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "tests/learn/made_day.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

using namespace learning;

MadeDay dayOf(const char* plan, double rate, int passes, std::uint64_t seed) {
    DayStyle style;
    style.rate = rate;
    style.passes = passes;
    return makeDay(readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_") + plan + ".json"),
                   style, seed);
}

// A pack that the prior puts at its very end: taken straight there, nothing would seem to depend on its charge, and the
// voltage sensor's gain came out ten standard errors off and sure of itself.
TEST(Errors, HoldWhereThePackIsFull) {
    const MadeDay day = dayOf("light_two_wheel_drive", 20.0, 2, 48);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    LearnOptions options;
    options.foretell = false;
    const LearnReport report = learn({&log, 1}, options);
    ASSERT_TRUE(report.converged);
    for (const LearnedNuisance& n : report.nuisances)
        if (n.name == "voltage sensor gain") {
            EXPECT_NEAR(n.value, day.voltageGain, 3.0 * n.standardError);
            EXPECT_LT(n.standardError, 0.0025);
        }
    for (const LearnedParameter& p : report.parameters)
        EXPECT_NEAR(p.value, *findPlanField(p.key)->get(day.truth), 3.5 * p.standardError) << p.key;
}

// From afar the first look at this day leads up a valley: more gain and less charge, six standard uncertainties away.
TEST(Errors, AFitThatWentAstrayIsTriedAgain) {
    const MadeDay day = dayOf("heavy_all_wheel_drive", 25.0, 4, 25);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    LearnOptions options;
    options.foretell = false;
    const LearnReport report = learn({&log, 1}, options);
    ASSERT_TRUE(report.converged);
    for (const LearnedParameter& p : report.parameters)
        EXPECT_NEAR(p.value, *findPlanField(p.key)->get(day.truth), 4.0 * p.standardError) << p.key;
}

// Efficiency, tyre and friction act almost alike here: difference quotients that are off by a thousandth tell them
// apart where the day does not. Errors from a third of the step must be the same.
TEST(Errors, DoNotComeFromTheStepOfDerivatives) {
    const MadeDay day = dayOf("heavy_all_wheel_drive", 50.0, 2, 22);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    Problem problem = problemOf({&log, 1}, {});
    const Estimated found = estimate(problem, {});
    ASSERT_TRUE(found.converged);
    for (UnknownItem& u : problem.unknowns)
        u.step *= 0.3;
    EstimateOptions again;
    again.start = found.z;
    const Estimated fine = estimate(problem, again);
    for (std::size_t j = 0; j < problem.carried; ++j) {
        const auto n = static_cast<Eigen::Index>(j);
        const double error = std::sqrt(found.covariance(n, n)), other = std::sqrt(fine.covariance(n, n));
        EXPECT_NEAR(error, other, 0.05 * other) << problem.unknowns[j].field->key();
    }
}

// A tenth more drag in one pass, the wind known: that pass's own drag takes it up, and nothing else bends.
TEST(Errors, AGustStaysInItsPass) {
    PlanInput plan = heavyCar();
    plan.uncertainty.erase("wind.speed_mps");
    DayStyle style;
    style.rate = 25.0, style.passes = 3, style.gust = 0.1;
    const MadeDay day = makeDay(plan, style, 31);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    LearnOptions options;
    options.foretell = false;
    const LearnReport report = learn({&log, 1}, options);
    ASSERT_TRUE(report.converged);
    std::vector<LearnedNuisance> drag;
    for (const LearnedNuisance& n : report.nuisances)
        if (n.name.rfind("drag", 0) == 0) drag.push_back(n);
    ASSERT_EQ(drag.size(), 3U);
    const LearnedNuisance& gusty = drag[day.gusty];
    for (std::size_t p = 0; p < drag.size(); ++p) {
        const double ratio = (1.0 + gusty.value) / (1.0 + drag[p].value);
        if (p != day.gusty) {
            EXPECT_NEAR(ratio, 1.1, 0.02);
        }
    }
    for (const LearnedParameter& p : report.parameters)
        EXPECT_NEAR(p.value, *findPlanField(p.key)->get(day.truth), 4.0 * p.standardError) << p.key;
}

} // namespace

} // namespace rw::testing
