#include "core/plan/plan_figures.h"

#include "core/plan/cautions.h"
#include "core/plan/limits.h"
#include "core/plan/plan.h"
#include "core/units.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <numbers>
#include <set>

namespace rw::testing {

namespace {

TEST(PassSetupOfPlan, ConvertsToSi) {
    const PlanInput plan = heavyCar();
    const PassSetup setup = passSetup(plan);
    EXPECT_DOUBLE_EQ(setup.pack.capacity, 6.2 * 3600.0);
    EXPECT_DOUBLE_EQ(setup.controller.cutoffVoltage, 3.2 * 8);
    EXPECT_DOUBLE_EQ(setup.motor.timing, 10.0 * std::numbers::pi / 180.0);
    EXPECT_DOUBLE_EQ(setup.gearing.ratio, 46.0 / 32.0 * 2.46);
    EXPECT_DOUBLE_EQ(setup.motor.noLoad.constant, 7.5 / 2.0);
    EXPECT_DOUBLE_EQ(setup.motor.noLoad.viscous, 7.5 / 2.0);
    EXPECT_DOUBLE_EQ(setup.motor.noLoad.referenceSpeed, 2.0 * std::numbers::pi / 60.0 * 1250.0 * 29.6);
    // Wind from 40° against a heading of 200°: mostly from behind.
    EXPECT_NEAR(setup.strip.headWind, 2.2 * std::cos(160.0 * std::numbers::pi / 180.0), 1e-12);
    const StartState start = startState(plan);
    EXPECT_EQ(start.winding, 35.0);
    EXPECT_EQ(start.motorCase, 35.0);
    EXPECT_EQ(start.controller, 32.0);
    EXPECT_EQ(start.pack, 38.0);
    EXPECT_EQ(start.polarisation, 0.0);
}

TEST(PassSetupOfPlan, StationPressureWinsOverElevation) {
    PlanInput plan = heavyCar();
    const double before = passSetup(plan).strip.airDensity;
    plan.air.elevation_m = 2000.0;
    EXPECT_EQ(passSetup(plan).strip.airDensity, before);
    plan.air.pressure_Pa.reset();
    EXPECT_LT(passSetup(plan).strip.airDensity, before);
}

TEST(PassSetupOfPlan, StartsAtTheAirsTemperatureByDefault) {
    PlanInput plan = heavyCar();
    plan.start = {};
    EXPECT_EQ(startState(plan).winding, 19.0);
    EXPECT_EQ(startState(plan).pack, 19.0);
}

TEST(PlanFigures, DisplayUnits) {
    PassResult pass;
    pass.chargeUsed = 1800.0, pass.energyUsed = 7200.0, pass.peakMotorSpeed = 2.0 * std::numbers::pi * 500.0;
    PlanInput plan = heavyCar();
    plan.motor.poles = 14;
    EXPECT_DOUBLE_EQ(findPlanFigure("charge_used_Ah")->get(plan, pass).value(), 0.5);
    EXPECT_DOUBLE_EQ(findPlanFigure("energy_used_Wh")->get(plan, pass).value(), 2.0);
    EXPECT_NEAR(findPlanFigure("peak_motor_rpm")->get(plan, pass).value(), 30000.0, 1e-9);
    EXPECT_NEAR(findPlanFigure("peak_electrical_rpm")->get(plan, pass).value(), 210000.0, 1e-8);
    EXPECT_EQ(findPlanFigure("no_such_figure"), nullptr);
}

TEST(Limits, EveryRowHasWordsOfItsOwn) {
    std::set<std::string_view> names, titles, shortNames;
    for (const LimitRow& row : limitTable()) {
        EXPECT_TRUE(names.insert(row.name).second) << row.name;
        EXPECT_TRUE(titles.insert(row.title).second) << row.title;
        EXPECT_TRUE(shortNames.insert(row.shortName).second) << row.shortName;
        EXPECT_FALSE(row.allowedWords.empty()) << row.name;
        EXPECT_TRUE(row.advice.ends_with(".")) << row.name;
        EXPECT_EQ(&limitRow(row.name), &row);
    }
}

// The names are what scripts read: none may be missing or renamed.
TEST(Limits, AreThoseThatScriptsRead) {
    std::vector<std::string_view> names;
    for (const LimitRow& row : limitTable())
        names.push_back(row.name);
    const std::vector<std::string_view> published{
        "winding_limit",    "case_comfort", "case_limit",       "controller_comfort", "controller_limit",
        "pack_comfort",     "pack_limit",   "pack_continuous",  "pack_burst",         "controller_continuous",
        "controller_burst", "motor_speed",  "electrical_speed", "tyre_speed",         "cell_voltage",
        "front_load",       "strip"};
    EXPECT_EQ(names, published);
}

TEST(Cautions, SayTheMakersAndTheLawFirst) {
    EXPECT_GE(cautions.size(), 7U);
    EXPECT_NE(cautions.back().find("Local law"), std::string_view::npos);
}

} // namespace

} // namespace rw::testing
