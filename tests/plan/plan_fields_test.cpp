#include "core/plan/plan_fields.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "tests/plan/sample_plans.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

namespace rw::testing {

namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(PlanFields, EveryRowIsWhole) {
    std::set<std::string> keys;
    for (const PlanField& field : planFields()) {
        SCOPED_TRACE(field.key());
        EXPECT_TRUE(keys.insert(field.key()).second) << "twice in the table";
        EXPECT_EQ(findPlanField(field.key()), &field);
        EXPECT_FALSE(field.label.empty());
        for (const std::string_view sentence : {field.meaning, field.measure}) {
            EXPECT_TRUE(sentence.ends_with(".")) << sentence;
            EXPECT_GE(sentence.size(), 5U);
        }
        EXPECT_TRUE(field.usual.empty() ? field.usualLow < field.usualHigh : field.usual.ends_with(".")) << field.usual;
        EXPECT_LE(field.low, field.high);
        EXPECT_TRUE(field.required || field.defaultValue || !field.defaultText.empty())
            << "no default and not required";
        EXPECT_FALSE(field.required && (field.defaultValue || !field.defaultText.empty()));
        const bool numeric =
            field.kind == FieldKind::Number || field.kind == FieldKind::Whole || field.kind == FieldKind::Choice;
        EXPECT_EQ(numeric, field.get != nullptr && field.set != nullptr);
    }
    EXPECT_EQ(keys.size(), 110U); // of the plan input's version 1
}

TEST(PlanFields, UsualRangesAndMeasurementsAreNumbersInsideTheValidRange) {
    for (const PlanField& field : planFields()) {
        if (field.kind == FieldKind::Choice || field.kind == FieldKind::OcvTable) continue;
        SCOPED_TRACE(field.key());
        EXPECT_LT(field.usualLow, field.usualHigh);
        EXPECT_GE(field.usualLow, field.low);
        EXPECT_LE(field.usualHigh, field.high);
        const double middle = 0.5 * (field.usualLow + field.usualHigh);
        // Measuring tells more than knowing the usual range; its whole width is over three standard uncertainties.
        EXPECT_LT(3.0 * field.measurableTo.at(middle), field.usualHigh - field.usualLow);
        // What is counted or chosen has no uncertainty, everything else has.
        const bool chosen = field.name == "target_mps" || field.name == "max_cells";
        EXPECT_EQ(field.measurableTo.at(field.usualHigh) > 0.0, field.kind == FieldKind::Number && !chosen);
    }
    EXPECT_DOUBLE_EQ(findPlanField("motor.kv_rpm_per_V")->measurableTo.at(2000.0), 20.0);
    EXPECT_DOUBLE_EQ(findPlanField("vehicle.drag_area_m2")->measurableTo.at(0.01), 0.0008);
    EXPECT_DOUBLE_EQ(findPlanField("vehicle.mass_kg")->measurableTo.at(4.0), 0.008);
}

TEST(PlanFields, AGuessIsWiderThanAMeasurementAndNarrowerThanTheUsualRange) {
    for (const PlanField& field : planFields()) {
        if (field.kind != FieldKind::Number && field.kind != FieldKind::Whole) continue;
        SCOPED_TRACE(field.key());
        const double middle = 0.5 * (field.usualLow + field.usualHigh);
        const auto width = guessWidth(field, middle);
        ASSERT_EQ(width.has_value(), field.measurableTo.at(middle) > 0.0);
        if (!width) continue;
        EXPECT_LE(*width, 0.25 * (field.usualHigh - field.usualLow)); // so that four of them cover the range
        EXPECT_LE(*width, 4.0 * field.measurableTo.at(middle));
        EXPECT_GT(4.0 * *width, field.measurableTo.at(middle));
    }
    EXPECT_DOUBLE_EQ(*guessWidth(*findPlanField("motor.kv_rpm_per_V"), 2000.0), 80.0);
    EXPECT_DOUBLE_EQ(*guessWidth(*findPlanField("air.temperature_C"), 20.0), 4.0);
    EXPECT_FALSE(guessWidth(*findPlanField("gears.pinion_teeth"), 20.0)); // counted
}

// A person reads them beside a field that is switched to mm, inch, % or mΩ: whoever follows a number of another unit is
// wrong a hundredfold. Ranges are numbers of the table; what is left in words names no unit that any field is shown in.
TEST(PlanFields, HintsNameNoUnitOfTheirOwn) {
    for (const PlanField& field : planFields()) {
        SCOPED_TRACE(field.key());
        const std::string words = std::string(field.meaning) + " " + std::string(field.usual);
        for (const char* unit : {" m;", " m.", " m ", " m,", " km", " kg", " Pa", " ohm", " m/s", " F.", " F:", " Hz",
                                 " mm", " kg·m²", " m²", " mph"})
            EXPECT_THAT(words, Not(HasSubstr(std::string("0") + unit))) << unit;
        if (field.kind == FieldKind::Number || field.kind == FieldKind::Whole) {
            EXPECT_THAT(std::string(field.usual), Not(HasSubstr(" to 0."))) << "a range belongs into the numbers";
        }
    }
}

TEST(PlanFields, DefaultsOfTableAndStructAreTheSame) {
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr || field.required) continue;
        EXPECT_EQ(field.get(PlanInput{}), field.defaultValue) << field.key();
        if (field.defaultValue) {
            EXPECT_TRUE(fieldAllows(field, *field.defaultValue)) << field.key();
        }
    }
}

TEST(PlanFields, SetAndGetReturnTheSameNumberAndUnsetReturnsTheDefault) {
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr || field.kind == FieldKind::Choice) continue;
        PlanInput plan = heavyCar();
        const double value = field.kind == FieldKind::Whole ? 8.0 : 0.7123456789;
        field.set(plan, value);
        EXPECT_EQ(field.get(plan), value) << field.key();
        field.set(plan, std::nullopt);
        EXPECT_EQ(field.get(plan), field.get(PlanInput{})) << field.key();
    }
}

TEST(PlanFields, RangesAreNamedInComplaints) {
    const auto complaint = [](std::string_view key, double value) {
        try {
            checkFieldValue(*findPlanField(key), value, "here");
        } catch (const InputError& error) {
            return std::string(error.what());
        }
        return std::string("allowed");
    };
    EXPECT_THAT(complaint("vehicle.mass_kg", 0.05), HasSubstr("0.1 to 60 kg"));
    EXPECT_THAT(complaint("pack.capacity_Ah", 0.0), HasSubstr("over 0 Ah"));
    EXPECT_THAT(complaint("motor.poles", 7.0), HasSubstr("odd"));
    EXPECT_THAT(complaint("motor.poles", 7.5), HasSubstr("whole"));
    EXPECT_THAT(complaint("air.temperature_C", std::nan("")), HasSubstr("finite"));
    // Both ends are allowed where the range does not say "over".
    EXPECT_EQ(complaint("air.temperature_C", -40.0), "allowed");
    EXPECT_EQ(complaint("air.temperature_C", 150.0), "allowed");
    EXPECT_EQ(complaint("controller.endpoint", 1.0), "allowed");
    EXPECT_THAT(complaint("controller.endpoint", 0.0), HasSubstr("over 0 to 1"));
}

TEST(PlanFields, WhatStandsInForAnUnsetValue) {
    PlanInput plan = heavyCar();
    plan.start = {};
    plan.vehicle.drag_height_m.reset();
    plan.pack.burst_c_rate.reset();
    plan.air.pressure_Pa.reset();
    plan.air.elevation_m = 0.0;
    EXPECT_EQ(effectiveValue(*findPlanField("start.motor_C"), plan), plan.air.temperature_C);
    EXPECT_EQ(effectiveValue(*findPlanField("vehicle.drag_height_m"), plan), plan.vehicle.cg_height_m);
    EXPECT_EQ(effectiveValue(*findPlanField("pack.burst_c_rate"), plan), plan.pack.continuous_c_rate);
    // Sea level of ISO 2533.
    EXPECT_DOUBLE_EQ(effectiveValue(*findPlanField("air.pressure_Pa"), plan).value(), 101325.0);
    EXPECT_FALSE(effectiveValue(*findPlanField("tyre.max_speed_radps"), PlanInput{}).has_value());
}

TEST(EditDistance, TextbookPairs) {
    // Wagner & Fischer, J. ACM 21 (1974) 168: insert, delete, replace; "kitten" to "sitting" is the usual example (from
    // memory).
    EXPECT_EQ(editDistance("kitten", "sitting"), 3U);
    EXPECT_EQ(editDistance("saturday", "sunday"), 3U);
    EXPECT_EQ(editDistance("", "abc"), 3U);
    // Damerau, Comm. ACM 7 (1964) 171: neighbours swapped count once.
    EXPECT_EQ(editDistance("msas", "mass"), 1U);
}

} // namespace

} // namespace rw::testing
