// The sample logs tell their stories.
#include "core/log/import.h"
#include "core/plan/plan_json.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <algorithm>

namespace rw {
namespace {

using namespace test;

LogReview reviewSample(const std::string& name, const ReviewOptions& options = {}) {
    return reviewLog(importLogFile(RUNWRIGHT_SOURCE_DIR "/samples/logs/" + name), options);
}

TEST(SampleLogs, theMainDayTellsTheWholeStory) {
    ReviewOptions options;
    options.plan = readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_main_day.json");
    const LogReview review = reviewSample("main-day.csv", options);
    ASSERT_EQ(review.sessions.size(), 2U);
    EXPECT_EQ(review.sessions[0].cells, 6);
    EXPECT_EQ(review.sessions[1].cells, 8);
    ASSERT_EQ(review.passes.size(), 7U);
    const auto found = [&](std::string_view id, std::size_t session) {
        return std::any_of(review.findings.begin(), review.findings.end(),
                           [&](const Finding& f) { return f.id == id && f.session == session; });
    };
    EXPECT_TRUE(found("cutoff-acted", 0));
    EXPECT_FALSE(found("output-below-full", 0)) << "the cutoff lets go bit by bit";
    EXPECT_TRUE(found("heat-accumulates", 1));
    EXPECT_TRUE(found("wheels-unloaded", 1));
    EXPECT_LT(review.passes[3].peakCurrent.value(), review.passes[0].peakCurrent.value() - 20.0)
        << "taken by the cutoff";
}

TEST(SampleLogs, aPlainDayHasNothingToComplainAbout) {
    const LogReview review = reviewSample("plain-day.csv");
    EXPECT_EQ(review.sessions.size(), 2U);
    EXPECT_EQ(review.passes.size(), 4U);
    EXPECT_TRUE(review.findings.empty()) << testing::PrintToString(idsOf(review));
}

TEST(SampleLogs, aHotDayHeatsUpFromPassToPass) {
    const LogReview review = reviewSample("hot-day.csv");
    const auto ids = idsOf(review);
    EXPECT_EQ(ids.count("motor-hot"), 3U);
    ASSERT_EQ(ids.count("heat-accumulates"), 1U);
    EXPECT_EQ(findingOf(review, "heat-accumulates")->severity, Severity::Act);
}

TEST(SampleLogs, aLightFrontAxleLosesItsLoadInBothPasses) {
    EXPECT_EQ(idsOf(reviewSample("light-front.csv")).count("wheels-unloaded"), 2U);
}

TEST(SampleLogs, theCutoffTakesThePowerToldOrNot) {
    ReviewOptions told;
    told.cutoffCell = 3.52;
    const LogReview known = reviewSample("cutoff-day.csv", told), guessed = reviewSample("cutoff-day.csv");
    ASSERT_TRUE(findingOf(known, "cutoff-acted"));
    EXPECT_EQ(findingOf(known, "cutoff-acted")->severity, Severity::Act);
    ASSERT_TRUE(findingOf(guessed, "cutoff-acted"));
    EXPECT_EQ(findingOf(guessed, "cutoff-acted")->severity, Severity::Watch); // cut hard, at a voltage nobody told
    EXPECT_FALSE(findingOf(known, "output-below-full"));
}

TEST(SampleLogs, coarseSensorsStillTellTwoPacksApart) {
    const LogReview review = reviewSample("coarse-ten-hertz.csv");
    EXPECT_EQ(review.sessions.size(), 2U);
    EXPECT_EQ(review.passes.size(), 3U);
}

TEST(SampleLogs, decimalCommasReadLikePoints) {
    const LogReview review = reviewSample("decimal-commas.csv");
    EXPECT_EQ(review.passes.size(), 3U);
    EXPECT_NEAR(review.sessions.at(0).currentZero.value(), 1.3, 0.05); // 0.8 A of offset and 0.5 A of the receiver
    EXPECT_GT(review.passes[0].speedPeak.value(), 30.0);
}

} // namespace
} // namespace rw
