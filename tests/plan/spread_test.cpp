#include "core/plan/spread.h"

#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/plan/sensitivity.h"
#include "core/plan/uncertain.h"
#include "core/stopped.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rw::testing {

namespace {

const SpreadFigure& figureOf(const SpreadResult& result, std::string_view name) {
    return *std::find_if(result.figures.begin(), result.figures.end(),
                         [&](const SpreadFigure& f) { return f.name == name; });
}

SpreadResult spreadOn(unsigned threads, std::uint64_t seed, const PlanInput& plan, std::size_t runs = 120) {
    return spreadPlan(plan, {runs, seed, {.stop = {}, .progress = {}, .threads = threads}});
}

TEST(Spread, SameAnswerToTheBitOnAnyNumberOfThreads) {
    for (const PlanInput& plan : samplePlans()) {
        const std::string one = spreadJson(spreadOn(1, 42, plan));
        EXPECT_EQ(spreadJson(spreadOn(2, 42, plan)), one);
        EXPECT_EQ(spreadJson(spreadOn(5, 42, plan)), one);
        EXPECT_NE(spreadJson(spreadOn(2, 43, plan)), one);
    }
}

TEST(Spread, WithoutUncertaintiesEveryRunIsThePlan) {
    PlanInput plan = heavyCar();
    plan.uncertainty.clear();
    const SpreadResult spread = spreadOn(2, 1, plan, 5);
    const PlanResult result = simulatePlan(plan);
    const SpreadFigure& mean = figureOf(spread, "zone_mean_mps");
    EXPECT_EQ(*mean.p05, *result.passes.front().zoneMean);
    EXPECT_EQ(*mean.p95, *result.passes.front().zoneMean);
    EXPECT_NEAR(*mean.sd, 0.0, 1e-12);
    EXPECT_EQ(*spread.targetProbability, 1.0);
    for (const SpreadLimit& limit : spread.limits) {
        const auto margin = std::find_if(result.margins.begin(), result.margins.end(),
                                         [&](const Margin& m) { return m.limit == limit.limit; });
        EXPECT_EQ(limit.probabilityBroken, margin->margin < 0.0 ? 1.0 : 0.0) << limit.limit;
    }
    EXPECT_TRUE(spread.drivers.empty());
}

TEST(Spread, OneSmallUncertaintyActsAsItsDerivative) {
    // For a small standard uncertainty the deviation of a figure is |dy/dx| σ, and the one input explains all of it.
    PlanInput plan = streamliner();
    constexpr double sigma = 2e-5;
    plan.uncertainty = {{"vehicle.drag_area_m2", sigma}};
    const SpreadResult spread = spreadOn(2, 3, plan, 400);
    const auto meanWith = [&](double area) {
        PlanInput moved = plan;
        moved.vehicle.drag_area_m2 = area;
        return *simulatePass(passSetup(moved), startState(moved)).zoneMean;
    };
    const double area = plan.vehicle.drag_area_m2;
    const double slope = (meanWith(area + sigma) - meanWith(area - sigma)) / (2.0 * sigma);
    EXPECT_NEAR(*figureOf(spread, "zone_mean_mps").sd, std::abs(slope) * sigma, 0.01 * std::abs(slope) * sigma);
    EXPECT_NEAR(*spread.drivers.front().share, 1.0, 1e-4);
}

TEST(Spread, SharesSumToAtMostOneAndAreSorted) {
    for (const PlanInput& plan : samplePlans()) {
        const SpreadResult spread = spreadOn(2, 5, plan, 200);
        double sum = 0.0, last = 1.0;
        EXPECT_EQ(spread.drivers.size(), plan.uncertainty.size());
        for (const SpreadDriver& driver : spread.drivers) {
            ASSERT_TRUE(driver.share.has_value());
            EXPECT_GE(*driver.share, 0.0);
            EXPECT_LE(*driver.share, last);
            last = *driver.share;
            sum += last;
        }
        EXPECT_LE(sum, 1.0 + 1e-12);
        EXPECT_GT(sum, 0.5);
    }
}

TEST(Spread, TargetProbabilityFollowsTheTarget) {
    PlanInput plan = heavyCar();
    const SpreadFigure mean = figureOf(spreadOn(2, 8, plan, 400), "zone_mean_mps");
    plan.drive.target_mps = *mean.p50;
    EXPECT_NEAR(*spreadOn(2, 8, plan, 400).targetProbability, 0.5, 1.0 / 400.0);
    plan.drive.target_mps = *mean.p95;
    EXPECT_NEAR(*spreadOn(2, 8, plan, 400).targetProbability, 0.05, 1.0 / 400.0);
    plan.drive.target_mps.reset();
    EXPECT_FALSE(spreadOn(2, 8, plan, 20).targetProbability.has_value());
}

TEST(Spread, NoRunFailsHoweverWideTheUncertainties) {
    PlanInput plan = lightCar();
    for (const PlanField& field : planFields()) {
        if (field.kind != FieldKind::Number && field.kind != FieldKind::Whole) continue;
        const double value = std::abs(effectiveValue(field, plan).value_or(0.0));
        plan.uncertainty[field.key()] = value + 1e-3;
    }
    plan.uncertainty["venue.length_m"] = 500.0;
    plan.uncertainty["venue.run_up_m"] = 500.0;
    plan.uncertainty["vehicle.cg_behind_front_m"] = 1.0;
    plan.uncertainty.erase("drive.passes");
    const SpreadResult spread = spreadOn(2, 12, plan, 300);
    EXPECT_GT(spread.completedProbability, 0.0);
    EXPECT_LT(spread.completedProbability, 1.0);
    for (const SpreadFigure& figure : spread.figures)
        for (const auto& value : {figure.mean, figure.sd, figure.p05, figure.p50, figure.p95})
            if (value) {
                EXPECT_TRUE(std::isfinite(*value)) << figure.name;
            }
}

TEST(Spread, RunsOutOfRangeAreRefused) {
    EXPECT_THROW(static_cast<void>(spreadPlan(heavyCar(), {0, 1, {}})), InputError);
    EXPECT_THROW(static_cast<void>(spreadPlan(heavyCar(), {2'000'000, 1, {}})), InputError);
}

TEST(Spread, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    EXPECT_THROW((void)spreadPlan(heavyCar(), {100, 1, {.stop = stop.get_token(), .progress = {}, .threads = 2}}),
                 Stopped);
}

// The drawn rank correlation against the stated one: for a Gaussian copula of correlation r Spearman's is 6/π
// asin(r/2). Source: Iman & Conover, Commun. Stat. B11 (1982) 311; Kruskal, J. Am. Stat. Assoc. 53 (1958) 814 (the
// formula).
TEST(Spread, DrawsTheStatedCorrelation) {
    PlanInput plan = heavyCar();
    plan.uncertainty = {{"motor.kv_rpm_per_V", 20.0}, {"tyre.radius_m", 1e-4}, {"vehicle.drag_area_m2", 1e-4}};
    plan.correlation = {{"motor.kv_rpm_per_V", "vehicle.drag_area_m2", -0.8},
                        {"tyre.radius_m", "vehicle.drag_area_m2", 0.5}};
    const std::vector<UncertainField> fields = uncertainFields(plan);
    constexpr std::size_t runs = 4000;
    const auto drawn = drawShares(plan, fields, runs, 11);
    const auto spearman = [&](std::size_t a, std::size_t b) {
        double sum = 0.0; // shares are uniform: their correlation is that of the ranks, variance 1/12
        for (std::size_t i = 0; i < runs; ++i)
            sum += (drawn[a][i] - 0.5) * (drawn[b][i] - 0.5);
        return 12.0 * sum / static_cast<double>(runs);
    };
    const auto stated = [](double r) { return 6.0 / std::numbers::pi * std::asin(r / 2.0); };
    const double error = 4.0 / std::sqrt(static_cast<double>(runs)); // four standard errors
    EXPECT_NEAR(spearman(0, 2), stated(-0.8), error);                // keys in their order: kv, radius, drag area
    EXPECT_NEAR(spearman(1, 2), stated(0.5), error);
    EXPECT_NEAR(spearman(0, 1), 0.0, error);
}

TEST(Spread, ColumnsWithoutCorrelationAreDrawnAsBefore) {
    PlanInput plan = heavyCar();
    const std::vector<UncertainField> fields = uncertainFields(plan);
    const auto before = drawShares(plan, fields, 50, 3);
    plan.correlation = {{fields[0].field->key(), fields[1].field->key(), 0.4}};
    const auto after = drawShares(plan, fields, 50, 3);
    EXPECT_EQ(after[0], before[0]);
    EXPECT_NE(after[1], before[1]);
    for (std::size_t k = 2; k < fields.size(); ++k)
        EXPECT_EQ(after[k], before[k]);
}

TEST(Spread, SaysThatCorrelatedSharesNeedNotAddToOne) {
    PlanInput plan = heavyCar();
    EXPECT_TRUE(spreadOn(2, 5, plan, 30).notes.empty());
    plan.correlation = {{plan.uncertainty.begin()->first, std::next(plan.uncertainty.begin())->first, 0.4}};
    EXPECT_EQ(spreadOn(2, 5, plan, 30).notes.size(), 1U);
}

TEST(Uncertain, DrawnValuesAreAlwaysAllowed) {
    PlanInput plan = lightCar();
    for (const PlanField& field : planFields())
        if (field.kind == FieldKind::Number || field.kind == FieldKind::Whole) plan.uncertainty[field.key()] = 1e6;
    for (const UncertainField& field : uncertainFields(plan))
        for (const double share : {1e-18, 1e-6, 0.1, 0.5, 0.9, 1.0 - 1e-9, 1.0 - 0x1p-53}) {
            const double value = field.value(share);
            EXPECT_TRUE(fieldAllows(*field.field, value)) << field.field->key() << " " << value;
        }
}

TEST(Uncertain, WholeNumbersAreRoundedToAllowedOnes) {
    PlanInput plan = lightCar();
    plan.uncertainty = {{"gears.pinion_teeth", 1.0}, {"motor.poles", 2.0}};
    const auto fields = uncertainFields(plan);
    ASSERT_EQ(fields.size(), 2U);
    EXPECT_EQ(fields[0].value(0.5), 25.0);
    EXPECT_EQ(fields[0].value(0.8), 26.0); // quantile 0.84: 25.84
    EXPECT_EQ(fields[1].value(0.5), 4.0);
    EXPECT_EQ(fields[1].value(0.9), 6.0); // 4 + 1.28 · 2, and poles come in twos
}

TEST(Uncertain, ContradictionsAreReconciled) {
    PlanInput plan = lightCar();
    plan.venue.length_m = 100.0, plan.venue.run_up_m = 95.0, plan.venue.timed_m = 20.0;
    reconcile(plan);
    EXPECT_DOUBLE_EQ(plan.venue.run_up_m, 80.0);
    plan.venue.length_m = 15.0;
    reconcile(plan);
    EXPECT_NEAR(plan.venue.run_up_m + plan.venue.timed_m, 15.0, 1e-12);
    EXPECT_GT(plan.venue.run_up_m, 0.0);
    plan.vehicle.cg_behind_front_m = 0.5;
    reconcile(plan);
    EXPECT_EQ(plan.vehicle.cg_behind_front_m, plan.vehicle.wheelbase_m);
    checkPlanInput(plan, "reconciled");
}

TEST(Sensitivity, MovesOneInputAtATimeBothWays) {
    const PlanInput plan = streamliner();
    const SensitivityResult result = planSensitivity(plan);
    ASSERT_EQ(result.inputs.size(), plan.uncertainty.size());
    double last = 1e9;
    for (const Sensitivity& input : result.inputs) {
        const SensitivityChange& mean = input.changes.front();
        EXPECT_EQ(mean.figure, "zone_mean_mps");
        const double largest = std::max(std::abs(*mean.up), std::abs(*mean.down));
        EXPECT_LE(largest, last);
        last = largest;
        if (input.key != "vehicle.drag_area_m2") continue;
        PlanInput moved = plan;
        moved.vehicle.drag_area_m2 += plan.uncertainty.at(input.key);
        const double up = *simulatePass(passSetup(moved), startState(moved)).zoneMean -
                          *simulatePass(passSetup(plan), startState(plan)).zoneMean;
        EXPECT_DOUBLE_EQ(*mean.up, up);
        EXPECT_LT(*mean.up, 0.0);
        EXPECT_GT(*mean.down, 0.0);
    }
}

} // namespace

} // namespace rw::testing
