// `choose`, `size`, `ladder` and `day`, run as a person or a script runs them: each answer is a plan, and `plan` says
// of it what they said.
#include "tests/batch/run_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace rw::testing {

namespace {

using nlohmann::json;
using ::testing::HasSubstr;

json answerOf(const std::vector<std::string>& arguments, const std::string& input = {}) {
    const ProgramRun run = runBatch(arguments, input);
    EXPECT_EQ(run.status, 0) << run.err;
    return run.status == 0 ? json::parse(run.out) : json();
}

json planned(json plan) {
    plan["drive"]["passes"] = 1; // rows, points and steps are judged by their first pass
    return answerOf({"plan", "-", "--json"}, plan.dump());
}

double tightest(const json& result) {
    const json& all = result.at("margins");
    return std::min_element(all.begin(), all.end(),
                            [](const json& a, const json& b) { return a["margin"] < b["margin"]; })
        ->at("margin");
}

std::string example() { return runBatch({"plan", "--example"}).out; }

TEST(ChooseCommand, EveryRowPlannedByItselfSaysTheSame) {
    const ScratchFolder folder;
    const std::string garage = folder.path("own.runwright"), plans = folder.path("plans");
    ASSERT_EQ(runBatch({"garage", "create", garage, "--sample"}).status, 0);
    const json answer = answerOf({"choose", garage, "--setup", "setup-15", "--venue", "venue-4", "--target", "45",
                                  "--runs", "20", "--json", "--plans", plans});
    ASSERT_GT(answer.at("rows").size(), 10U);
    EXPECT_FALSE(answer.at("left_out").empty());
    for (std::size_t i = 0; i < answer["rows"].size(); i += 11) {
        const json& row = answer["rows"][i];
        const std::string name = row["motor"].get<std::string>() + "_" + row["controller"].get<std::string>() + "_" +
                                 row["pack"].get<std::string>() + ".json";
        const json again = planned(json::parse(readFile(plans + "/" + name)));
        EXPECT_EQ(row["zone_mean_mps"], again["passes"][0]["zone_mean_mps"]) << name;
        EXPECT_EQ(row["peak_pack_A"], again["passes"][0]["peak_pack_A"]) << name;
        EXPECT_EQ(row["tightest"]["margin"], tightest(again)) << name;
    }
    EXPECT_EQ(runBatch({"choose", garage, "--setup", "setup-999", "--venue", "venue-4"}).status, 3);
    EXPECT_EQ(runBatch({"choose", garage}).status, 2);
}

TEST(SizeCommand, ThePointAtThePlansOwnWindingAgreesWithReach) {
    const std::string plan = example();
    const json input = json::parse(plan);
    const double kv = input["motor"]["kv_rpm_per_V"];
    const std::string cells = std::to_string(input["pack"]["series"].get<int>());
    const std::string own = std::to_string(kv);
    const json size = answerOf(
        {"size", "-", "--target", "40", "--cells", cells + "-" + cells, "--kv", own + "-" + own, "--json"}, plan);
    const json reach = answerOf({"reach", "-", "--target", "40", "--json"}, plan);
    ASSERT_TRUE(size["makes_target"][0][0].get<bool>());
    ASSERT_TRUE(reach["gearing"]["reachable"].get<bool>());
    const double ratio = size["overall_ratio"][0][0];
    EXPECT_GE(ratio, reach["gearing"]["values"][0].get<double>() * (1.0 - 1e-6));
    EXPECT_LE(ratio, reach["gearing"]["values"][1].get<double>() * (1.0 + 1e-6));
    const json again = planned(size["best"]["plan"]);
    EXPECT_NEAR(again["overall_ratio"], size["best"]["overall_ratio"].get<double>(), 1e-9);
    EXPECT_GE(again["passes"][0]["zone_mean_mps"].get<double>(), 40.0);
    EXPECT_NEAR(tightest(again), size["best"]["margin"], 1e-9);
}

TEST(LadderCommand, EveryStepMakesItsSpeedWithinLimits) {
    const std::string plan = example();
    const json ladder = answerOf({"ladder", "-", "--proven", "30", "--target", "60", "--runs", "50", "--json"}, plan);
    ASSERT_FALSE(ladder["steps"].empty());
    EXPECT_FALSE(ladder["blocked"].is_null()); // 60 m/s is out of this car's reach
    for (const json& step : ladder["steps"]) {
        const json again = planned(step["plan"]);
        EXPECT_GE(again["passes"][0]["zone_mean_mps"].get<double>(), step["speed_mps"].get<double>());
        EXPECT_GE(tightest(again), 0.0);
        EXPECT_EQ(step["risky"].get<bool>(), step["limit_probability"].get<double>() > 0.1);
    }
    const ProgramRun text = runBatch({"ladder", "-", "--proven", "30", "--target", "60", "--runs", "50"}, plan);
    EXPECT_THAT(text.out, HasSubstr("The ladder ends below"));
    EXPECT_THAT(text.out, HasSubstr("closed course"));
}

TEST(DayCommand, PassesOfADayAreThosePlanned) {
    const std::string plan = example();
    const json day = answerOf({"day", "-", "--passes", "4", "--wait", "30", "--json"}, plan);
    ASSERT_EQ(day["waits_s"], json::array({30.0}));
    json repeated = json::parse(plan);
    repeated["drive"]["passes"] = 4;
    repeated["drive"]["turn_around_s"] = 30;
    const json passes = answerOf({"plan", "-", "--json"}, repeated.dump())["passes"];
    double winding = -1e9;
    for (const json& pass : passes)
        winding = std::max(winding, pass["winding_peak_C"].get<double>());
    EXPECT_EQ(day["passes_until_limit"][0], 4);
    EXPECT_EQ(day["winding_peak_C"][0].get<double>(), winding);
    EXPECT_TRUE(day["limit"][0].is_null());
}

TEST(ChoosingCommands, WhatMakesNoSenseIsRefusedInOneLine) {
    const std::string plan = example();
    const auto refused = [&](const std::vector<std::string>& arguments, const char* word) {
        const ProgramRun run = runBatch(arguments, plan);
        EXPECT_EQ(run.status, 1) << arguments.front() << ": " << run.err;
        EXPECT_TRUE(run.out.empty());
        EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1) << run.err;
        EXPECT_THAT(run.err, HasSubstr(word));
    };
    const auto misused = [&](const std::vector<std::string>& arguments, const char* word) {
        const ProgramRun run = runBatch(arguments, plan);
        EXPECT_EQ(run.status, 2) << run.err;
        EXPECT_THAT(run.err, HasSubstr(word));
    };
    refused({"ladder", "-", "--proven", "40", "--target", "30"}, "proven");
    refused({"ladder", "-", "--proven", "30", "--target", "40", "--step", "0"}, "step");
    misused({"size", "-", "--target", "-1"}, "target");
    misused({"size", "-", "--target", "40", "--cells", "0-3"}, "cells");
    refused({"size", "-", "--target", "40", "--kv", "3000-1000"}, "kv");
    misused({"day", "-", "--passes", "0"}, "passes");
    refused({"day", "-", "--passes", "3", "--wait", "-1"}, "wait");
}

} // namespace

} // namespace rw::testing
