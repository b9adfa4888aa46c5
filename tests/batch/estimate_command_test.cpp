// `estimate`, run as a person or a script runs it.
#include "core/plan/labels.h"
#include "core/plan/plan_json.h"
#include "tests/batch/run_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace rw::testing {

namespace {

using ::testing::HasSubstr;

TEST(EstimateCommand, TheExampleBecomesAPlanThatOtherCommandsTake) {
    const ProgramRun example = runBatch({"estimate", "--example"});
    ASSERT_EQ(example.status, 0) << example.err;
    EXPECT_EQ(example.out, writeLabels(exampleLabels()));
    const ScratchFolder folder;
    const std::string file = folder.path("plan.json");
    const ProgramRun json = runBatch({"estimate", "-", "--json", "--out", file}, example.out);
    ASSERT_EQ(json.status, 0) << json.err;
    const auto result = nlohmann::json::parse(json.out);
    EXPECT_EQ(readPlanInputFile(file), readPlanInput(result.at("plan").dump(), "plan"));
    ASSERT_EQ(result.at("ask").size(), 3U);
    for (const auto& ask : result.at("ask")) {
        const auto& zone = ask.at("zone_mean");
        const auto width = [&](const char* when) {
            return zone.at(when).at("p95").get<double>() - zone.at(when).at("p05").get<double>();
        };
        EXPECT_LT(width("after"), width("before"));
        EXPECT_FALSE(ask.at("method").get<std::string>().empty());
        EXPECT_GT(ask.at("measurable_to").get<double>(), 0.0);
    }
    EXPECT_EQ(runBatch({"plan", file}).status, 0);
}

TEST(EstimateCommand, PeopleReadTheBandAndWhatToMeasure) {
    const ProgramRun text = runBatch({"estimate", "-"}, writeLabels(exampleLabels()));
    ASSERT_EQ(text.status, 0) << text.err;
    EXPECT_THAT(text.out, HasSubstr("nine in ten"));
    EXPECT_THAT(text.out, HasSubstr("Measuring these would narrow it most"));
    EXPECT_THAT(text.out, HasSubstr("closed course"));
}

TEST(EstimateCommand, WrongLabelsAndWrongUseAreRefused) {
    const ProgramRun broken = runBatch({"estimate", "-"}, "{\"runwright\": \"labels\",\n  \"version\" 1}");
    EXPECT_EQ(broken.status, 1);
    EXPECT_THAT(broken.err, HasSubstr("-:2:"));
    EXPECT_TRUE(broken.out.empty());
    EXPECT_EQ(runBatch({"estimate"}).status, 2);
    EXPECT_EQ(runBatch({"estimate", "/nowhere/labels.json"}).status, 1);
}

} // namespace

} // namespace rw::testing
