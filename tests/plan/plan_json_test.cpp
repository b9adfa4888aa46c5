// The plan input's document: what is written reads back bit for bit, defaults, places in complaints (RFC 8259).
#include "core/plan/plan_json.h"

#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "tests/plan/random_plan.h"
#include "tests/plan/sample_plans.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace rw::testing {

namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

const std::string least = R"({"runwright": "plan", "version": 1,
  "venue": {"length_m": 260, "run_up_m": 110, "timed_m": 20, "friction": 0.95},
  "vehicle": {"mass_kg": 2, "wheelbase_m": 0.3, "cg_behind_front_m": 0.15, "cg_height_m": 0.03, "driven": "rear", "drag_area_m2": 0.01,
              "rolling_c0": 0.02, "internal_ratio": 1, "driveline_efficiency": 0.9},
  "tyre": {"radius_m": 0.03, "slip_stiffness": 15}, "gears": {"module_m": 0.0005, "pinion_teeth": 25, "spur_teeth": 72},
  "motor": {"kv_rpm_per_V": 2500, "resistance_ohm": 0.01, "no_load_current_A": 4, "no_load_voltage_V": 14.8, "winding_capacity_JpK": 20,
            "case_capacity_JpK": 80, "winding_case_KpW": 0.4, "case_air_KpW": 4},
  "controller": {"resistance_ohm": 0.001, "capacity_JpK": 60, "case_air_KpW": 3},
  "pack": {"series": 4, "capacity_Ah": 5, "cell_resistance_ohm": 0.002, "continuous_c_rate": 30, "capacity_JpK": 400, "case_air_KpW": 4}})";

std::string complaintAbout(const std::string& text) {
    try {
        static_cast<void>(readPlanInput(text, "plan.json"));
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

TEST(PlanJson, DefaultsAreThoseOfTheContract) {
    const PlanInput plan = readPlanInput(least, "plan.json");
    EXPECT_EQ(plan.air.temperature_C, 20.0);
    EXPECT_EQ(plan.air.relative_humidity, 0.5);
    EXPECT_THAT(plan.gears.pinions, ElementsAre(25));
    EXPECT_THAT(plan.gears.spurs, ElementsAre(72));
    EXPECT_EQ(plan.motor.magnet_coefficient_per_K, -0.0011);
    EXPECT_EQ(plan.motor.poles, 4);
    EXPECT_EQ(plan.motor.winding_limit_C, 150.0);
    EXPECT_EQ(plan.controller.cutoff.mode, CutoffMode::Off);
    EXPECT_EQ(plan.controller.input_capacitance_F, 0.0015);
    EXPECT_EQ(plan.pack.ocv, defaultOcv());
    EXPECT_EQ(plan.pack.limit_C, 60.0);
    EXPECT_EQ(plan.drive.turn_around_s, 60.0);
    EXPECT_EQ(plan.drive.passes, 1);
    EXPECT_FALSE(plan.drive.target_mps || plan.tyre.max_speed_radps || plan.controller.rate_per_s ||
                 plan.start.motor_C);
    EXPECT_TRUE(plan.uncertainty.empty());
}

TEST(PlanJson, SamplesAndExampleReadBackBitForBit) {
    for (const PlanInput& plan : samplePlans())
        EXPECT_EQ(readPlanInput(writePlanInput(plan), "again"), plan);
    EXPECT_EQ(readPlanInput(writePlanInput(examplePlan()), "again"), examplePlan());
    EXPECT_EQ(examplePlan(), lightCar());
}

TEST(PlanJson, RandomInputsReadBackBitForBit) {
    SeededUniform random(20240611);
    for (int i = 0; i < 600; ++i) {
        PlanInput plan = i % 2 == 0 ? plausiblePlan(random) : strangePlan(random);
        plan.uncertainty = {{"venue.friction", random.inUnit() * 1e-7}, {"motor.kv_rpm_per_V", random.inUnit() * 1e9}};
        const std::string text = writePlanInput(plan);
        ASSERT_EQ(readPlanInput(text, "again"), plan) << text;
    }
}

TEST(PlanJson, AByteOrderMarkIsPassedOver) {
    EXPECT_EQ(readPlanInput("\xEF\xBB\xBF" + least, "plan.json"), readPlanInput(least, "plan.json"));
    EXPECT_THAT(complaintAbout("\xEF\xBB\xBF{\"runwright\": 1}"), HasSubstr("plan.json:1:15"));
}

TEST(PlanJson, AGearListedTwiceCountsOnceInTheOrderGiven) {
    std::string text = least;
    text.replace(text.find("\"spur_teeth\": 72"), 16, "\"spur_teeth\": 72, \"pinions\": [24, 22, 24, 26, 22]");
    EXPECT_THAT(readPlanInput(text, "plan.json").gears.pinions, ElementsAre(24, 22, 26));
}

TEST(PlanJson, ComplaintsStandWhereTheValueStands) {
    EXPECT_THAT(
        complaintAbout("{\"runwright\": \"plan\",\n \"version\": 1,\n \"air\": {\"relative_humidity\":   7.5e0}}"),
        HasSubstr("plan.json:3:33: air.relative_humidity: 7.5 is out of range"));
    EXPECT_THAT(
        complaintAbout("{\"runwright\": \"plan\", \"version\": 1, \"air\": {\"relative_humidity\": \"a \\\"b\\\\\"}}"),
        HasSubstr("plan.json:1:66: air.relative_humidity: expected a number, found a text"));
    EXPECT_THAT(complaintAbout("{\"runwright\": \"plan\", \"version\": 1, \"air\": {\"relative_humidity\": true}}"),
                HasSubstr("plan.json:1:66"));
    EXPECT_THAT(complaintAbout("{\"runwright\": \"plan\", \"version\": 1, \"air\": {\"relative_humidity\": [[]]}}"),
                HasSubstr("plan.json:1:66"));
    EXPECT_THAT(complaintAbout("{\"runwright\": \"plan\", \"version\": 1, \"air\": {\"relative_humidity\": -12}}"),
                HasSubstr("plan.json:1:66"));
}

TEST(PlanJson, DepthOfAHundredIsReadDeeperIsRefused) {
    const std::string hundred = std::string(100, '[') + std::string(100, ']');
    EXPECT_THAT(complaintAbout(hundred), HasSubstr("expected an object"));
    EXPECT_THAT(complaintAbout("[" + hundred + "]"), HasSubstr("nested deeper than 100"));
}

TEST(PlanJson, ExactWholeNumbersMayCarryAPoint) {
    std::string text = least;
    text.replace(text.find("\"spur_teeth\": 72"), 16, "\"spur_teeth\": 7.2e1");
    EXPECT_EQ(readPlanInput(text, "plan.json").gears.spur_teeth, 72);
}

TEST(PlanJson, NullMeansUnsetWhereThatIsAllowed) {
    std::string text = least;
    text.replace(text.find("\"continuous_c_rate\": 30"), 23, "\"continuous_c_rate\": null");
    EXPECT_FALSE(readPlanInput(text, "plan.json").pack.continuous_c_rate.has_value());
}

TEST(PlanJson, ManyKeysInOneObjectStayQuick) {
    // A hundred thousand different keys: quadratic work would take minutes and run into the test's time-out.
    std::string text = "{";
    for (int i = 0; i < 80'000; ++i)
        text += "\"k" + std::to_string(i) + "\":0,";
    EXPECT_THAT(complaintAbout(text + "\"z\":0}"), HasSubstr("runwright"));
}

const std::string digest(64, 'a');

PlanInput correlated() {
    PlanInput plan = heavyCar();
    plan.uncertainty = {{"motor.kv_rpm_per_V", 20.0}, {"tyre.radius_m", 1e-4}, {"vehicle.drag_area_m2", 1e-4}};
    plan.correlation = {{"motor.kv_rpm_per_V", "tyre.radius_m", 0.123456},
                        {"tyre.radius_m", "vehicle.drag_area_m2", -1.0 / 3.0}};
    plan.learned = LearnedInput{{1.0 / 0.97, 0.01 / 3.0}, {0.998, 0.001}, {-0.1, 0.7}, {digest}};
    return plan;
}

TEST(PlanJson, CorrelationAndWhatWasLearnedReadBackBitForBit) {
    const PlanInput plan = correlated();
    EXPECT_EQ(readPlanInput(writePlanInput(plan), "written"), plan);
    EXPECT_EQ(writePlanInput(heavyCar()).find("correlation"), std::string::npos);
}

TEST(PlanJson, CorrelationsThatCannotBeAreRefusedInOneSentence) {
    const auto refusal = [](const std::vector<KeyCorrelation>& pairs) {
        PlanInput plan = correlated();
        plan.correlation = pairs;
        return complaintAbout(writePlanInput(plan));
    };
    const std::string kv = "motor.kv_rpm_per_V", radius = "tyre.radius_m", area = "vehicle.drag_area_m2";
    EXPECT_EQ(refusal({{kv, radius, 0.9}}), "");
    EXPECT_THAT(refusal({{kv, radius, 1.0}}), HasSubstr("allowed is over -1 and under 1"));
    EXPECT_THAT(refusal({{kv, kv, 0.5}}), HasSubstr("with itself"));
    EXPECT_THAT(refusal({{kv, radius, 0.5}, {radius, kv, 0.5}}), HasSubstr("given twice"));
    EXPECT_THAT(refusal({{kv, "motor.timing_deg", 0.5}}), HasSubstr("has no uncertainty"));
    // 0.9, 0.9 and -0.9 cannot be together: the determinant 1 - 3 · 0.81 - 2 · 0.729 is negative
    EXPECT_THAT(refusal({{kv, radius, 0.9}, {kv, area, 0.9}, {radius, area, -0.9}}),
                HasSubstr("not positive definite"));
}

TEST(PlanJson, GainsThatCannotBeAreRefused) {
    PlanInput plan = correlated();
    plan.learned->currentGain.value = 0.0;
    EXPECT_THAT(complaintAbout(writePlanInput(plan)), HasSubstr("learned.gains.current.value"));
    plan = correlated();
    plan.learned->logs = {"short"};
    EXPECT_THAT(complaintAbout(writePlanInput(plan)), HasSubstr("SHA-256"));
}

} // namespace

} // namespace rw::testing
