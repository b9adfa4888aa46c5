// The labels document: what is written reads back, and what is wrong is named with its place.
#include "core/error.h"
#include "core/plan/labels.h"
#include "core/plan/plan_json.h"
#include "tests/plan/random_labels.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace rw::testing {

namespace {

using ::testing::HasSubstr;
using ::testing::MatchesRegex;

std::string complaintOf(const std::string& text) {
    try {
        (void)readLabels(text, "car.json");
    } catch (const InputError& error) {
        return error.what();
    }
    return "read";
}

std::string example(const std::string& from = "", const std::string& to = "") {
    std::string text = writeLabels(exampleLabels());
    if (from.empty()) return text;
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

TEST(LabelsJson, WhatIsWrittenReadsBack) {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        LabelsInput labels = randomLabels(seed);
        labels.beyond = {{"motor.resistance_ohm", 0.1 / 3.0}, {"venue.friction", 0.9}};
        labels.measured = {"tyre.diameter_m"};
        labels.target_mps = 44.7;
        EXPECT_EQ(readLabels(writeLabels(labels), "again"), labels) << seed;
    }
}

TEST(LabelsJson, RefusalsNamePlaceAndWhatWasExpected) {
    EXPECT_THAT(complaintOf(example("\"width_m\"", "\"widht_m\"")),
                MatchesRegex("car.json:7:[0-9]+: vehicle.widht_m: unknown key; the nearest known one is "
                             "\"vehicle.width_m\""));
    EXPECT_THAT(complaintOf(example("\"width_m\": 0.3,", "")), HasSubstr("vehicle.width_m: missing"));
    EXPECT_THAT(complaintOf(example("\"mass_kg\": 0.38,", "")),
                HasSubstr("motor.mass_kg: missing; give it, or can_diameter_m and can_length_m"));
    EXPECT_THAT(complaintOf(example("\"saloon\"", "\"sedan\"")),
                HasSubstr("vehicle.body: expected \"streamlined\", \"low\", \"saloon\", \"truck\" or \"open\", found"));
    EXPECT_THAT(complaintOf(example("\"fan\": true", "\"fan\": 1")),
                HasSubstr("controller.fan: expected true or false, found a number"));
    EXPECT_THAT(complaintOf(example("\"kv_rpm_per_V\": 2000.0", "\"kv_rpm_per_V\": 20")),
                HasSubstr("motor.kv_rpm_per_V: 20 rpm/V is out of range; allowed is 50 to 20000 rpm/V"));
    EXPECT_THAT(complaintOf(example("\"kv_rpm_per_V\": 2000.0", "\"kv_rpm_per_V\": null")), HasSubstr("found null"));
    EXPECT_THAT(complaintOf(example("\"labels\"", "\"plan\"")), HasSubstr("expected \"labels\", found \"plan\""));
    EXPECT_THAT(complaintOf(example("\"version\": 1", "\"version\": 2")), HasSubstr("reads version 1"));
    EXPECT_THAT(complaintOf(example("\"poles\": 4", "\"no_load_current_A\": 4, \"poles\": 4")),
                HasSubstr("motor.no_load_voltage_V: missing; needed with a no_load_current_A"));
    EXPECT_THAT(complaintOf(example("\"wheelbase_m\"", "\"front_axle_kg\": 4.2, \"wheelbase_m\"")),
                HasSubstr("vehicle.front_axle_kg: is not under mass_kg"));
    EXPECT_THAT(complaintOf(example("\"target_mps\": 50.0", "\"target_mps\": 50.0, \"measured\": [\"motor.poles\"]")),
                HasSubstr("the nearest known one is"));
}

TEST(LabelsJson, EmptyLabelsAreLeftOutOrNull) {
    const LabelsInput labels =
        readLabels(example("\"poles\": 4", "\"poles\": 4, \"resistance_ohm\": null, "
                                           "\"no_load_current_A\": null, \"can_length_m\": null"),
                   "car.json");
    EXPECT_EQ(labels, exampleLabels());
}

TEST(LabelsJson, TheResultHoldsAPlanThatReadsAndWhatIsNotExact) {
    const LabelsPlan result = estimatePlan(exampleLabels());
    const auto json = nlohmann::json::parse(labelsPlanJson(result, {}));
    const PlanInput plan = readPlanInput(json.at("plan").dump(), "plan");
    EXPECT_EQ(plan, result.plan);
    for (const auto& estimate : json.at("estimates")) {
        const std::string key = estimate.at("key");
        EXPECT_EQ(estimate.at("uncertainty"), plan.uncertainty.at(key)) << key;
        EXPECT_EQ(estimate.at("value"), *findPlanField(key)->get(plan)) << key;
    }
}

} // namespace

} // namespace rw::testing
