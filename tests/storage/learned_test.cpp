// The loop through the garage: a kept log, what it teaches, the fit that is kept and accepted, the next plan. The plan
// that comes out of the garage is held against the one that learning itself writes.
#include "samples/generate/cars.h"
#include "samples/generate/generate.h"
#include "storage/fit_record.h"
#include "storage/log_judging.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>

#include <array>

namespace rw::test {

TEST(Learned, whatAKeptLogTeachesComesOutOfTheGarageAsLearningWritesIt) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    PlanInput known = generate::samplePlan("plain-day");
    known.uncertainty = {{"vehicle.drag_area_m2", 0.003}, {"motor.kv_rpm_per_V", 40.0}, {"air.temperature_C", 1.0}};
    known.correlation.clear();
    const PlanIds ids = garage.addSetupFromPlan(known, {});
    generate::Scenario day = generate::sampleDay("plain-day");
    day.sessions.resize(1);
    day.sessions.front().after_s = 20.0;
    const std::string text = generate::generateLog(day, 5).text;
    LogContext context;
    context.setup = ids.setup, context.venue = ids.venue;
    const LogJudging judging = logJudging(garage, context);
    const JudgedLog judged = readAndJudge(text, "day.csv", judging);
    const Id log = garage.addLog(logRecord(packLog(text), judged, context)).log;

    const std::array logs{log};
    const LearnPasses passes = learnPasses(garage, logs);
    const std::array inputs{LearnLog{&judged.log, &judged.review, *judging.review.plan, garage.log(log).sha256}};
    LearnOptions options;
    options.reverse = passes.reverse, options.noted = passes.noted, options.foretell = false;
    const LearnReport report = learn(inputs, options);
    ASSERT_TRUE(report.converged);
    ASSERT_EQ(report.parameters.size(), 2u);
    const Id fit = garage.addFit(fitRecord(report, learnJson(report), ids.setup, passes));
    const PlanInput next = garage.planInput(garage.acceptFit(fit), ids.venue);
    PlanInput written = learnedPlan(*judging.review.plan, report);
    ASSERT_EQ(next.correlation.size(), written.correlation.size());
    for (std::size_t i = 0; i < next.correlation.size(); ++i)
        EXPECT_NEAR(next.correlation[i].coefficient, written.correlation[i].coefficient, 1e-12);
    written.correlation = next.correlation;
    EXPECT_EQ(next, written);
    EXPECT_EQ(garage.passesCounted(garage.setups().front().id).size(), report.passesUsed.size());
    EXPECT_THROW(garage.addFit(fitRecord(report, "{}", garage.setups().front().id, passes)), GarageError);
}

} // namespace rw::test
