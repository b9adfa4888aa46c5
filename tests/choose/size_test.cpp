// Sizing against winding rules, brute force over ratios, and reach.
#include "core/choose/changed_plan.h"
#include "core/choose/size.h"
#include "core/choose/size_point.h"
#include "core/error.h"
#include "core/plan/reach.h"
#include "core/plan/scan.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

// Hendershot & Miller, Design of Brushless Permanent-Magnet Machines, and any text on winding design (from memory):
// with the same copper, torque per square root of copper loss is the winding's only through the slot, not the turns:
// kv² R stays; the no-load loss at the same speed stays: I0 V0 and kv V0 stay.
TEST(Winding, TheSameCopperHasTheSameMotorConstantAndNoLoadLoss) {
    const PlanInput plan = heavyCar();
    for (const double factor : {0.34, 0.9, 1.7, 2.9}) {
        const PlanInput wound = woundFor(plan, factor * plan.motor.kv_rpm_per_V);
        const auto& was = plan.motor;
        const auto& is = wound.motor;
        EXPECT_NEAR(is.kv_rpm_per_V * is.kv_rpm_per_V * is.resistance_ohm,
                    was.kv_rpm_per_V * was.kv_rpm_per_V * was.resistance_ohm, 1e-9);
        EXPECT_NEAR(is.no_load_current_A * is.no_load_voltage_V, was.no_load_current_A * was.no_load_voltage_V, 1e-9);
        EXPECT_NEAR(is.kv_rpm_per_V * is.no_load_voltage_V, was.kv_rpm_per_V * was.no_load_voltage_V, 1e-7);
        EXPECT_EQ(is.winding_capacity_JpK, was.winding_capacity_JpK);
        EXPECT_EQ(is.inertia_kgm2, was.inertia_kgm2);
    }
}

// An ideal transformer: twice the turns at twice the volts is the same machine. Cells doubled, winding halved in kv,
// all resistances of the source four times: speed, power and heat are the same, currents are halved.
TEST(Winding, TwiceTheVoltsAtHalfTheSpeedConstantIsTheSameMachine) {
    PlanInput plan = lightCar();
    plan.controller.motor_current_limit_A.reset(), plan.controller.pack_current_limit_A.reset();
    plan.controller.resistance_ohm = 0.0, plan.controller.switch_time_s = 0.0, plan.controller.aux_current_A = 0.0;
    plan.controller.cutoff = {};
    plan.pack.lead_resistance_ohm = 0.0, plan.pack.rc_resistance_ohm = 0.0, plan.pack.series = 4;
    PlanInput twice = woundFor(withCells(plan, 8), plan.motor.kv_rpm_per_V / 2.0);
    twice.pack.cell_resistance_ohm *= 2.0; // half the copper a cell: the same loss at half the current
    twice.pack.capacity_Ah /= 2.0;
    twice.pack.capacity_JpK = plan.pack.capacity_JpK;
    const PassResult one = simulatePass(passSetup(plan), startState(plan));
    const PassResult two = simulatePass(passSetup(twice), startState(twice));
    constexpr double same = 1e-8; // of both integrations
    EXPECT_NEAR(*two.zoneMean, *one.zoneMean, same * *one.zoneMean);
    EXPECT_NEAR(two.peakMotorCurrent * 2.0, one.peakMotorCurrent, 1e-6 * one.peakMotorCurrent);
    EXPECT_NEAR(two.windingPeak, one.windingPeak, 1e-6 * one.windingPeak);
    EXPECT_NEAR(two.peakElectrical, one.peakElectrical, 1e-6 * one.peakElectrical);
}

TEST(Cells, PackAndVehicleGoAlong) {
    PlanInput plan = heavyCar();
    plan.pack.series = 8, plan.pack.mass_kg = 1.2;
    plan.pack.rc_resistance_ohm = 0.004, plan.pack.rc_capacitance_F = 2000.0;
    const PlanInput more = withCells(plan, 10);
    EXPECT_DOUBLE_EQ(more.pack.capacity_JpK, plan.pack.capacity_JpK * 1.25);
    EXPECT_DOUBLE_EQ(more.pack.rc_resistance_ohm, 0.005);
    EXPECT_DOUBLE_EQ(*more.pack.rc_capacitance_F, 1600.0);
    EXPECT_DOUBLE_EQ(*more.pack.mass_kg, 1.5);
    EXPECT_DOUBLE_EQ(more.vehicle.mass_kg, plan.vehicle.mass_kg + 0.3);
    plan.pack.mass_kg.reset();
    EXPECT_EQ(withCells(plan, 10).vehicle.mass_kg, plan.vehicle.mass_kg);
}

// No ratio of a dense scan by full passes has more left of its tightest limit.
TEST(SizePoint, NoRatioOfADenseScanIsBetterAndReachAgrees) {
    for (PlanInput plan : {lightCar(), heavyCar()}) {
        const double best = *reachTarget(plan, 1.0).gearing.zoneMean;
        for (const double share : {0.8, 0.97, 0.9995}) {
            SCOPED_TRACE(share);
            plan.drive.target_mps = share * best;
            const SizePoint point = sizePoint(plan);
            ASSERT_TRUE(point.ratio);
            EXPECT_GE(*point.judged.zoneMean, *plan.drive.target_mps);
            const auto range = *reachTarget(plan, *plan.drive.target_mps).gearing.ratios;
            EXPECT_GE(*point.ratio, range.first * (1.0 - 1e-6));
            EXPECT_LE(*point.ratio, range.second * (1.0 + 1e-6));
            for (const double ratio : logSpaced(range.first, range.second, 60)) {
                PassSetup setup = passSetup(plan);
                setup.gearing.ratio = ratio;
                const PassResult pass = simulatePass(setup, startState(plan));
                if (!pass.completed || *pass.zoneMean < *plan.drive.target_mps) continue;
                // 1e-4 of ratio, times how fast a margin runs with it.
                EXPECT_LE(margins(plan, {pass}).front().margin, point.judged.tightest.margin + 1e-3) << ratio;
            }
        }
        plan.drive.target_mps = 1.001 * best;
        EXPECT_FALSE(sizePoint(plan).ratio);
    }
}

TEST(Size, EveryPointIsAPlanOfItsOwnAndTheBestIsTheBest) {
    const PlanInput plan = heavyCar();
    SizeOptions options;
    options.fewestCells = 6, options.mostCells = 8, options.kvSteps = 4, options.runs = 0;
    const double target = 40.0;
    const SizeMap size = sizePower(plan, target, options);
    ASSERT_TRUE(size.best);
    double most = -1e9;
    for (std::size_t row = 0; row < size.cells.size(); ++row) {
        for (std::size_t column = 0; column < size.kv.size(); ++column) {
            const auto& cell = size.map[row][column];
            if (!cell) continue;
            most = std::max(most, cell->margin);
            PlanInput own = withRatio(woundFor(withCells(plan, size.cells[row]), size.kv[column]), cell->overallRatio);
            const PassResult pass = simulatePass(passSetup(own), startState(own));
            EXPECT_GE(*pass.zoneMean, target * (1.0 - 1e-9));
            EXPECT_NEAR(pass.peakPackCurrent, cell->peakPackCurrent, 1e-9 * pass.peakPackCurrent);
            EXPECT_NEAR(margins(own, {pass}).front().margin, cell->margin, 1e-9);
        }
    }
    EXPECT_GE(size.best->tightest.margin, most - 1e-9);
    EXPECT_EQ(size.best->plan.drive.target_mps, target);
    EXPECT_NEAR(simulatePlan(size.best->plan).overallRatio, size.best->overallRatio, 1e-12 * size.best->overallRatio);
    EXPECT_NEAR(size.kv.front(), plan.motor.kv_rpm_per_V / 3.0, 1e-9);
    EXPECT_NEAR(size.kv.back(), plan.motor.kv_rpm_per_V * 3.0, 1e-9);
}

TEST(Size, WhatCannotBeMadeIsANoWithWhatStandsInTheWay) {
    SizeOptions options;
    options.fewestCells = 6, options.mostCells = 6, options.kvSteps = 2;
    const SizeMap size = sizePower(heavyCar(), 400.0, options);
    EXPECT_FALSE(size.best);
    ASSERT_TRUE(size.nearest);
    EXPECT_GT(size.nearest->zoneMean, 0.0);
    EXPECT_FALSE(size.nearest->binding.empty());
}

TEST(Size, OutOfRangeIsRefused) {
    const auto refused = [](double target, int fewest, int most, std::optional<std::pair<double, double>> kv) {
        SizeOptions options;
        options.fewestCells = fewest, options.mostCells = most, options.kv = kv, options.kvSteps = 2;
        EXPECT_THROW(static_cast<void>(sizePower(heavyCar(), target, options)), InputError);
    };
    refused(0.0, 2, 3, {});
    refused(30.0, 0, 3, {});
    refused(30.0, 4, 3, {});
    refused(30.0, 4, 25, {});
    refused(30.0, 4, 4, std::pair(2000.0, 1000.0));
    refused(30.0, 4, 4, std::pair(10.0, 1000.0));
}

} // namespace

} // namespace rw::testing
