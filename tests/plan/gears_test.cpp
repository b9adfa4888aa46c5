#include "core/plan/gears.h"

#include "core/physics/gearing.h"
#include "core/stopped.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <set>

namespace rw::testing {

namespace {

TEST(GearTable, HoldsEveryPairThatFitsAndNoOther) {
    PlanInput plan = heavyCar();
    plan.vehicle.mesh_min_m = 0.035, plan.vehicle.mesh_max_m = 0.0405;
    const GearTable table = sweepGears(plan, GearRank::Fastest);
    std::set<std::pair<int, int>> found;
    for (const GearRow& row : table.rows)
        found.emplace(row.pinion, row.spur);
    EXPECT_EQ(found.size(), table.rows.size());
    for (const int pinion : plan.gears.pinions) {
        for (const int spur : plan.gears.spurs) {
            const double distance = plan.gears.module_m * (pinion + spur) / 2.0;
            const bool fits = distance >= 0.035 - 1e-12 && distance <= 0.0405 + 1e-12;
            EXPECT_EQ(found.contains({pinion, spur}), fits) << pinion << "/" << spur;
        }
    }
}

TEST(GearTable, ARowIsThePlansFirstPassWithThatPair) {
    const PlanInput plan = lightCar();
    for (const GearRow& row : sweepGears(plan, GearRank::Fastest).rows) {
        if (row.pinion % 4 != 0) continue;
        PlanInput geared = plan;
        geared.gears.pinion_teeth = row.pinion, geared.gears.spur_teeth = row.spur;
        const PassResult pass = simulatePass(passSetup(geared), startState(geared));
        constexpr double sketched = 1e-6; // of the figures of a row; all figures: sketch_test.cpp
        EXPECT_NEAR(row.zoneMean.value(), pass.zoneMean.value(), sketched * *pass.zoneMean);
        EXPECT_NEAR(row.peakPackCurrent, pass.peakPackCurrent, sketched * pass.peakPackCurrent);
        EXPECT_NEAR(row.stopAt, pass.stopAt, sketched * pass.stopAt);
        const auto all = margins(geared, {pass});
        EXPECT_EQ(row.tightest.limit, all.front().limit);
        EXPECT_EQ(row.withinLimits, pass.completed && all.front().margin >= 0.0);
    }
}

// Rows as the ranks are to treat them; simulated ones would not hold every corner.
GearRow row(int pinion, int spur, std::optional<double> mean, double amps, std::optional<double> way, bool within,
            bool target) {
    GearRow out;
    out.pinion = pinion, out.spur = spur, out.zoneMean = mean, out.peakPackCurrent = amps;
    out.distanceToTarget = way, out.withinLimits = within, out.makesTarget = target;
    return out;
}

std::vector<int> pinionsRanked(GearRank rank) {
    GearTable table;
    table.rows = {row(1, 9, 50.0, 200.0, 60.0, false, true),
                  row(2, 9, 48.0, 150.0, 80.0, true, true),
                  row(3, 9, 47.0, 150.0, 70.0, true, true),
                  row(4, 9, 40.0, 90.0, std::nullopt, true, false),
                  row(5, 9, std::nullopt, 20.0, std::nullopt, false, false),
                  row(6, 8, 47.0, 150.0, 70.0, true, true)};
    std::reverse(table.rows.begin(), table.rows.end());
    rankGears(table, rank);
    std::vector<int> out;
    for (const GearRow& r : table.rows)
        out.push_back(r.pinion);
    return out;
}

TEST(GearTable, Ranks) {
    EXPECT_EQ(pinionsRanked(GearRank::Fastest), (std::vector<int>{2, 3, 6, 4, 1, 5}));
    EXPECT_EQ(pinionsRanked(GearRank::LeastCurrent), (std::vector<int>{2, 3, 6, 5, 4, 1}));
    EXPECT_EQ(pinionsRanked(GearRank::Shortest), (std::vector<int>{3, 6, 2, 1, 4, 5}));
}

TEST(GearTable, WithoutATargetNoRowMakesIt) {
    PlanInput plan = lightCar();
    plan.drive.target_mps.reset();
    for (const GearRow& r : sweepGears(plan, GearRank::LeastCurrent).rows)
        EXPECT_FALSE(r.makesTarget);
}

TEST(GearTable, EfficientRowsAreThoseThatNoOtherBeats) {
    for (const PlanInput& plan : samplePlans()) {
        const GearTable table = sweepGears(plan, GearRank::Fastest);
        for (std::size_t i = 0; i < table.rows.size(); ++i) {
            const GearRow& a = table.rows[i];
            bool beaten = false;
            for (const GearRow& b : table.rows)
                beaten = beaten || (b.zoneMean >= a.zoneMean && b.peakPackCurrent <= a.peakPackCurrent &&
                                    (b.zoneMean > a.zoneMean || b.peakPackCurrent < a.peakPackCurrent));
            const bool listed = std::count(table.efficient.begin(), table.efficient.end(), i) == 1;
            EXPECT_EQ(listed, !beaten) << a.pinion << "/" << a.spur;
        }
    }
}

TEST(GearTable, SameOnAnyNumberOfThreadsAndProgressReachesTheEnd) {
    const PlanInput plan = streamliner();
    const std::string one =
        gearTableJson(sweepGears(plan, GearRank::Fastest, {.stop = {}, .progress = {}, .threads = 1}));
    std::atomic<int> calls{0};
    std::atomic<bool> ended{false};
    const auto progress = [&](double done) {
        ++calls;
        if (done == 1.0) ended = true;
    };
    EXPECT_EQ(gearTableJson(sweepGears(plan, GearRank::Fastest, {.stop = {}, .progress = progress, .threads = 5})),
              one);
    EXPECT_EQ(calls, 40);
    EXPECT_TRUE(ended);
}

TEST(GearTable, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    const WorkOptions work{.stop = stop.get_token(), .progress = {}, .threads = 2};
    EXPECT_THROW((void)sweepGears(heavyCar(), GearRank::Fastest, work), Stopped);
}

TEST(GearTable, NoPairMayFit) {
    PlanInput plan = heavyCar();
    plan.vehicle.mesh_min_m = 0.5, plan.vehicle.mesh_max_m = 0.6;
    EXPECT_TRUE(sweepGears(plan, GearRank::Fastest).rows.empty());
}

} // namespace

} // namespace rw::testing
