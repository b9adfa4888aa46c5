// What a measurement is worth: closed forms, and brute force: the spread run again with the measurement's uncertainty.
#include "core/plan/labels.h"
#include "core/plan/spread.h"
#include "tests/plan/random_labels.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rw::testing {

namespace {

constexpr double fiveToNinetyFive = 2.0 * 1.6448536269514722; // of the standard normal distribution: any table

struct Linear {
    PlanInput input = heavyCar();
    std::vector<UncertainField> fields;
    std::vector<std::vector<double>> drawn;
    std::vector<double> figure;

    // figure = Σ slope × deviation of each field in units of its standard uncertainty.
    Linear(std::map<std::string, double> uncertainty, const std::vector<double>& slopes, std::size_t runs) {
        input.uncertainty = std::move(uncertainty);
        fields = uncertainFields(input);
        drawn = drawShares(input, fields, runs, 7);
        figure.assign(runs, 40.0);
        for (std::size_t k = 0; k < fields.size(); ++k)
            for (std::size_t i = 0; i < runs; ++i) {
                drawn[k][i] = fields[k].value(drawn[k][i]);
                figure[i] += slopes[k] * (drawn[k][i] - fields[k].distribution.mean) / fields[k].distribution.deviation;
            }
    }
    [[nodiscard]] WorthResult worth() const { return worthOf({input, fields, drawn, figure, "", figure}); }
};

const Worth& rowOf(const WorthResult& result, std::string_view key) {
    return *std::find_if(result.inputs.begin(), result.inputs.end(), [&](const Worth& row) { return row.key == key; });
}

TEST(Worth, OfASumIsThatOfItsVariances) {
    // In the order of the keys: motor.kv (3 % to 1 %), vehicle.drag_area (30 % to 8 %), vehicle.mass (1 % to 0.2 %).
    PlanInput plan = heavyCar();
    const Linear linear({{"motor.kv_rpm_per_V", 0.03 * plan.motor.kv_rpm_per_V},
                         {"vehicle.drag_area_m2", 0.10 * plan.vehicle.drag_area_m2},
                         {"vehicle.mass_kg", 0.01 * plan.vehicle.mass_kg}},
                        {1.5, 2.0, 0.5}, 4000);
    const WorthResult result = linear.worth();
    const auto width = [](double kv, double drag, double mass) {
        return fiveToNinetyFive * std::sqrt(2.25 * kv * kv + 4.0 * drag * drag + 0.25 * mass * mass);
    };
    const double tolerance = 0.03; // three standard errors of a percentile's distance with 4,000 runs
    EXPECT_NEAR(rowOf(result, "motor.kv_rpm_per_V").zoneMean.before.width() / width(1, 1, 1), 1.0, tolerance);
    EXPECT_NEAR(rowOf(result, "motor.kv_rpm_per_V").zoneMean.after.width() / width(1.0 / 3.0, 1, 1), 1.0, tolerance);
    EXPECT_NEAR(rowOf(result, "vehicle.drag_area_m2").zoneMean.after.width() / width(1, 0.8, 1), 1.0, tolerance);
    EXPECT_NEAR(rowOf(result, "vehicle.mass_kg").zoneMean.after.width() / width(1, 1, 0.2), 1.0, tolerance);
    EXPECT_NEAR(result.bestTogether.after.width() / width(1.0 / 3.0, 0.8, 0.2), 1.0, tolerance);
    EXPECT_EQ(result.inputs.front().key, "motor.kv_rpm_per_V");
}

TEST(Worth, MeasuringOneOfTwoCorrelatedInputsTellsOfTheOther) {
    // Two inputs of slope 1 and correlation r, the first measured to a share s of its uncertainty: the variance of
    // their sum is (1 + r)² s² + 1 − r² (conditional normal distribution).
    Linear linear({{"motor.kv_rpm_per_V", 30.0}, {"vehicle.drag_area_m2", 1e-4}}, {1.0, 1.0}, 4000);
    PlanInput plan = linear.input;
    const double r = -0.8;
    const double s = findPlanField("motor.kv_rpm_per_V")->measurableTo.at(plan.motor.kv_rpm_per_V) / 30.0;
    ASSERT_LT(s, 1.0);
    linear.input.correlation = {{"motor.kv_rpm_per_V", "vehicle.drag_area_m2", r}};
    linear.drawn = drawShares(linear.input, linear.fields, 4000, 7);
    for (std::size_t i = 0; i < 4000; ++i) {
        linear.figure[i] = 40.0;
        for (std::size_t k = 0; k < 2; ++k) {
            linear.drawn[k][i] = linear.fields[k].value(linear.drawn[k][i]);
            linear.figure[i] +=
                (linear.drawn[k][i] - linear.fields[k].distribution.mean) / linear.fields[k].distribution.deviation;
        }
    }
    const BandChange kv = rowOf(linear.worth(), "motor.kv_rpm_per_V").zoneMean;
    EXPECT_NEAR(kv.after.width(), fiveToNinetyFive * std::sqrt((1 + r) * (1 + r) * s * s + 1 - r * r), 0.08);
}

TEST(Worth, KnownBetterThanItCanBeMeasuredNarrowsNothing) {
    const PlanInput plan = heavyCar();
    const Linear linear({{"motor.kv_rpm_per_V", 0.002 * plan.motor.kv_rpm_per_V}}, {1.0}, 500);
    const BandChange kv = linear.worth().inputs.front().zoneMean;
    EXPECT_EQ(kv.after.p05, kv.before.p05);
    EXPECT_EQ(kv.after.p95, kv.before.p95);
    EXPECT_TRUE(worthAsking(linear.worth()).empty());
}

TEST(Worth, TooFewRunsSayNothing) {
    const PlanInput plan = heavyCar();
    const Linear linear({{"motor.kv_rpm_per_V", 0.03 * plan.motor.kv_rpm_per_V}}, {1.0}, 5);
    EXPECT_FALSE(linear.worth().inputs.front().zoneMean.after.p05);
}

// The inputs that a person is asked to measure, each alone; worth-agreement does the same for every input and more
// runs.
TEST(Worth, AgreesWithRunningTheSpreadAgain) {
    constexpr std::size_t runs = 1000;
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const PlanInput plan = estimatePlan(randomLabels(seed)).plan;
        const SpreadResult before = spreadPlan(plan, {runs, 1, {}});
        for (const Worth& row : worthAsking(before.worth)) {
            // The same seed draws the same shares, so that chance is the same on both sides.
            PlanInput measured = plan;
            measured.uncertainty[row.key] = row.measurableTo;
            const Worth again = spreadPlan(measured, {runs, 1, {}}).worth.inputs.front();
            EXPECT_NEAR(row.zoneMean.after.width() / again.zoneMean.before.width(), 1.0, 0.10)
                << row.key << ", seed " << seed;
            ASSERT_EQ(again.limit, row.limit);
            EXPECT_NEAR(row.tightest.after.width() / again.tightest.before.width(), 1.0, 0.10)
                << row.limit << " after " << row.key << ", seed " << seed;
        }
    }
}

} // namespace

} // namespace rw::testing
