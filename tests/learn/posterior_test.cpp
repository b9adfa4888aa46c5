// What is left of a normal distribution before an end, against its integrals; and charge at rest, there and back.
#include "core/learn/day.h"
#include "core/learn/noise.h"
#include "core/learn/posterior.h"
#include "core/learn/scale.h"
#include "core/plan/plan.h"
#include "core/plan/plan_json.h"

#include <Eigen/Dense>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>

namespace rw::testing {

namespace {

using namespace learning;

struct Sums {
    double weight = 0.0, x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
};

// Midpoint sums over the plane of exp(-quadratic) where x + y / 2 does not exceed `end`.
Sums integrated(double sx, double sy, double r, double end) {
    Sums out;
    constexpr double step = 0.02;
    constexpr int widest = 350; // steps to either side
    for (int i = -widest; i < widest; ++i)
        for (int j = -widest; j < widest; ++j) {
            const double u = step * i, v = step * j;
            const double x = sx * u, y = sy * v;
            if (x + 0.5 * y > end) continue;
            const double w = std::exp(-0.5 * (u * u - 2.0 * r * u * v + v * v) / (1.0 - r * r));
            out.weight += w, out.x += w * x, out.y += w * y;
            out.xx += w * x * x, out.yy += w * y * y, out.xy += w * x * y;
        }
    return out;
}

// Against the integrals themselves (midpoint rule): middle and covariance before an end along a slanted direction.
TEST(Posterior, WhatLiesBeforeAnEndHasItsMoments) {
    constexpr double sx = 1.5, sy = 0.7, r = -0.6;
    for (const double end : {1.2, 0.0, -1.4}) {
        Posterior posterior;
        posterior.place = posterior.slope = Eigen::Vector2d::Zero();
        posterior.covariance = (Eigen::Matrix2d() << sx * sx, r * sx * sy, r * sx * sy, sy * sy).finished();
        const Eigen::RowVector2d along(1.0, 0.5);
        ASSERT_TRUE(cutOff(posterior, along, end));
        const Sums s = integrated(sx, sy, r, end);
        const double x = s.x / s.weight, y = s.y / s.weight;
        EXPECT_NEAR(posterior.place[0], x, 0.01);
        EXPECT_NEAR(posterior.place[1], y, 0.01);
        EXPECT_NEAR(posterior.covariance(0, 0), s.xx / s.weight - x * x, 0.01);
        EXPECT_NEAR(posterior.covariance(1, 1), s.yy / s.weight - y * y, 0.01);
        EXPECT_NEAR(posterior.covariance(0, 1), s.xy / s.weight - x * y, 0.01);
    }
}

// Where it was looked at does not matter: a slope there says where the middle is. An end far off changes nothing.
TEST(Posterior, ASlopeTellsWhereTheMiddleIs) {
    Posterior here, there;
    here.covariance = there.covariance = (Eigen::Matrix2d() << 1.0, 0.3, 0.3, 2.0).finished();
    here.place = here.slope = Eigen::Vector2d::Zero();
    there.place = Eigen::Vector2d(-0.5, 0.2);
    there.slope = there.covariance.inverse() * there.place; // of the cost ½ zᵀ C⁻¹ z
    const Eigen::RowVector2d along(1.0, 0.0);
    ASSERT_TRUE(cutOff(here, along, 0.4));
    ASSERT_TRUE(cutOff(there, along, 0.9));
    EXPECT_NEAR((here.place - there.place).norm(), 0.0, 1e-12);
    EXPECT_NEAR((here.covariance - there.covariance).norm(), 0.0, 1e-12);
    Posterior far = here;
    EXPECT_FALSE(cutOff(far, along, 20.0));
    EXPECT_EQ(far.covariance, here.covariance);
}

PlanInput lightCar() {
    return readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_light_two_wheel_drive.json");
}

// The table read backwards: charge → voltage → charge, for a sensor that reads 1 % more; straight on where it reads
// more than a full cell has.
TEST(ChargeTie, ChargeComesBackThroughTheGain) {
    ChargeTie tie;
    tie.ocv = convertedSetup(lightCar()).pack.ocv;
    for (const double charge : {0.3, 0.75, 0.97}) {
        tie.cell = 1.01 * tie.ocv.at(charge);
        EXPECT_NEAR(tie.restingAt(1.01), charge, 1e-9);
    }
    tie.cell = tie.ocv.at(1.0);
    EXPECT_NEAR(tie.restingAt(1.0), 1.0, 1e-9);
    const double over = tie.restingAt(0.998) - 1.0, twice = tie.restingAt(0.996) - 1.0;
    EXPECT_GT(over, 0.0);
    EXPECT_NEAR(twice, 2.0 * over, 0.01 * over);
}

// Exponential charging of a capacitor: after one time constant 1 - 1/e of the steady voltage I R.
TEST(RestingPolarisation, IsThatOfACapacitorSinceSwitchedOn) {
    const PlanInput plan = lightCar();
    const double steady = plan.controller.aux_current_A * plan.pack.rc_resistance_ohm;
    const double time = plan.pack.rc_resistance_ohm * *plan.pack.rc_capacitance_F;
    EXPECT_EQ(restingPolarisation(plan, 0.0), 0.0);
    EXPECT_NEAR(restingPolarisation(plan, time), 0.6321205588 * steady, 1e-9 * steady);
    EXPECT_NEAR(restingPolarisation(plan, 50.0 * time), steady, 1e-9 * steady);
}

// Means of 1 and of 25 rows: a row's noise and its fifth. One number for both would make the short ones count for too
// much and the long ones for too little.
TEST(Noise, MeansOfManyRowsCountForMore) {
    std::mt19937_64 engine(5);
    std::normal_distribution<double> normal;
    Day day;
    Piece piece;
    std::vector<double> residuals;
    for (std::size_t i = 0; i < 400; ++i) {
        Reading reading;
        reading.rows = i < 200 ? 1 : 25;
        reading.rowNoise = 0.5;
        reading.value = 0.5 / std::sqrt(static_cast<double>(reading.rows)) * normal(engine);
        reading.lowest = reading.value - 0.5, reading.highest = reading.value + 0.5;
        residuals.push_back(reading.value);
        piece.readings.push_back(reading);
    }
    day.pieces.push_back(piece);
    std::vector<Group> groups = groupsOf(day, std::vector<std::uint8_t>(400, 0));
    ASSERT_EQ(groups.size(), 1U);
    const std::vector<double> weight = weights(day, groups, residuals, Weighing::Effective);
    EXPECT_NEAR(weight[0], 2.0, 0.3);
    EXPECT_NEAR(weight[399], 10.0, 1.5);
    for (double& r : residuals)
        r += 0.4; // what the model does not follow is common to all, however long they are
    static_cast<void>(weights(day, groups, residuals, Weighing::Effective));
    EXPECT_NEAR(groups[0].common, 0.4, 0.05);
}

} // namespace

} // namespace rw::testing
