// Choosing against brute force: every pair of every combination planned by itself, the winner by the words of the
// contract.
#include "core/choose/choose_power.h"
#include "core/error.h"
#include "core/plan/spread.h"
#include "core/stopped.h"
#include "tests/plan/sample_plans.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace rw::testing {

namespace {

using ::testing::HasSubstr;

ChooseSet shelf(const PlanInput& base) {
    ChooseSet set;
    set.base = base;
    const auto motor = [&](const char* id, double kv, double ohm) {
        auto values = base.motor;
        values.kv_rpm_per_V *= kv, values.resistance_ohm *= ohm;
        set.motors.push_back({id, id, values, {{"motor.kv_rpm_per_V", 20.0}}});
    };
    motor("motor-1", 1.0, 1.0), motor("motor-2", 0.8, 1.5), motor("motor-3", 1.25, 0.7);
    auto weaker = base.controller;
    weaker.motor_current_limit_A = 120.0, weaker.continuous_A = 90.0;
    set.controllers = {{"controller-1", "own", base.controller, {}}, {"controller-2", "weaker", weaker, {}}};
    auto less = base.pack;
    less.series -= 1, less.capacity_Ah *= 0.8;
    set.packs = {{"pack-1", "own", base.pack, {}}, {"pack-2", "one cell less", less, {}}};
    return set;
}

PlanInput baseCar() {
    PlanInput plan = lightCar();
    plan.vehicle.mesh_min_m = 0.0, plan.vehicle.mesh_max_m = 1.0;
    plan.gears.pinions = {18, 22, 26, 30}, plan.gears.spurs = {44, 50};
    plan.drive.passes = 1;
    plan.motor.comfort_C = 110.0, plan.motor.limit_C = 120.0;
    return plan;
}

struct Tried {
    PlanInput plan;
    PassResult pass;
    Margin tightest;
    bool within = false, makes = false;
};

Tried tried(PlanInput plan, int pinion, int spur) {
    plan.gears.pinion_teeth = pinion, plan.gears.spur_teeth = spur;
    Tried out{plan, simulatePass(passSetup(plan), startState(plan)), {}, false, false};
    out.tightest = margins(plan, {out.pass}).front();
    out.within = out.pass.completed && out.tightest.margin >= 0.0;
    out.makes = plan.drive.target_mps && out.pass.zoneMean && *out.pass.zoneMean >= *plan.drive.target_mps;
    return out;
}

// The words of the contract, one after the other.
Tried winner(const std::vector<Tried>& all) {
    const auto largest = [&](auto allowed, auto figure) {
        const Tried* best = nullptr;
        for (const Tried& t : all)
            if (allowed(t) && (best == nullptr || figure(t) > figure(*best))) best = &t;
        return best;
    };
    const auto margin = [](const Tried& t) { return t.tightest.margin; };
    const auto speed = [](const Tried& t) { return *t.pass.zoneMean; };
    if (const Tried* t = largest([](auto& x) { return x.within && x.makes; }, margin)) return *t;
    if (const Tried* t = largest([](auto& x) { return x.within; }, speed)) return *t;
    if (const Tried* t = largest([](auto& x) { return x.pass.completed; }, margin)) return *t;
    return *largest([](auto&) { return true; }, margin);
}

Tried bruteForce(const ChooseSet& set, const ChooseRow& row) {
    PlanInput plan = set.base;
    plan.motor = set.motors[row.motor].values;
    plan.controller = set.controllers[row.controller].values;
    plan.pack = set.packs[row.pack].values;
    std::vector<Tried> all;
    for (const int pinion : plan.gears.pinions) // rising, so ties go to the smaller pinion, then spur
        for (const int spur : plan.gears.spurs)
            all.push_back(tried(plan, pinion, spur));
    return winner(all);
}

void expectWinners(const ChooseSet& set, const ChooseResult& result) {
    ASSERT_EQ(result.rows.size(), set.motors.size() * set.controllers.size() * set.packs.size());
    for (const ChooseRow& row : result.rows) {
        SCOPED_TRACE(set.motors[row.motor].id + " " + set.controllers[row.controller].id + " " +
                     set.packs[row.pack].id);
        const Tried best = bruteForce(set, row);
        EXPECT_EQ(row.pinion, best.plan.gears.pinion_teeth);
        EXPECT_EQ(row.spur, best.plan.gears.spur_teeth);
        EXPECT_EQ(row.zoneMean, best.pass.zoneMean); // the row is the full pass, to the bit
        EXPECT_EQ(row.caseSoakPeak, best.pass.caseSoakPeak);
        EXPECT_EQ(row.tightest.limit, best.tightest.limit);
        EXPECT_EQ(row.tightest.margin, best.tightest.margin);
        EXPECT_EQ(row.withinLimits, best.within);
        EXPECT_EQ(row.makesTarget, best.makes);
    }
}

TEST(ChoosePower, WithATargetEveryRowIsTheBestPairByBruteForce) {
    for (const double target : {12.0, 24.0, 60.0}) { // easy, hard, out of reach
        PlanInput base = baseCar();
        base.drive.target_mps = target;
        SCOPED_TRACE(target);
        const ChooseSet set = shelf(base);
        const ChooseResult result = choosePower(set, {.rank = {}, .runs = 20, .work = {}});
        expectWinners(set, result);
        const auto key = [](const ChooseRow& r) {
            return std::pair(!(r.withinLimits && r.makesTarget), -r.tightest.margin);
        };
        EXPECT_TRUE(
            std::is_sorted(result.rows.begin(), result.rows.end(), [&](auto& a, auto& b) { return key(a) < key(b); }));
    }
}

TEST(ChoosePower, WithoutATargetTheFastestWithinLimitsComesFirst) {
    PlanInput base = baseCar();
    base.drive.target_mps.reset();
    const ChooseSet set = shelf(base);
    const ChooseResult result = choosePower(set, {.rank = {}, .runs = 20, .work = {}});
    expectWinners(set, result);
    for (const ChooseRow& row : result.rows)
        EXPECT_FALSE(row.targetProbability);
    const ChooseRow& first = result.rows.front();
    for (const ChooseRow& row : result.rows)
        EXPECT_TRUE(!row.withinLimits || *row.zoneMean <= *first.zoneMean);
}

TEST(ChoosePower, EfficientRowsAreThoseThatNoneBeatsInBoth) {
    PlanInput base = baseCar();
    base.drive.target_mps = 20.0;
    const ChooseResult result = choosePower(shelf(base), {.rank = {}, .runs = 5, .work = {}});
    for (std::size_t i = 0; i < result.rows.size(); ++i) {
        const auto beats = [&](const ChooseRow& other) {
            const auto& row = result.rows[i];
            return *other.zoneMean >= *row.zoneMean && other.tightest.margin >= row.tightest.margin &&
                   (*other.zoneMean > *row.zoneMean || other.tightest.margin > row.tightest.margin);
        };
        EXPECT_EQ(std::find(result.efficient.begin(), result.efficient.end(), i) != result.efficient.end(),
                  std::none_of(result.rows.begin(), result.rows.end(), beats));
    }
}

TEST(ChoosePower, ChancesAreThoseOfTheRowsPlan) {
    PlanInput base = baseCar();
    base.drive.target_mps = 20.0;
    const ChooseResult result = choosePower(shelf(base), {.rank = ChooseRank::Chance, .runs = 50, .work = {}});
    for (const ChooseRow& row : result.rows) {
        const SpreadResult spread = spreadPlan(row.plan, {50, 1, {}});
        EXPECT_EQ(row.targetProbability, spread.targetProbability);
        for (const SpreadLimit& limit : spread.limits)
            EXPECT_GE(*row.limitProbability, limit.probabilityBroken);
    }
    EXPECT_TRUE(std::is_sorted(result.rows.begin(), result.rows.end(),
                               [](auto& a, auto& b) { return *a.targetProbability > *b.targetProbability; }));
}

TEST(ChoosePower, MassesGoByTheDifferenceWhereBothAreKnown) {
    PlanInput base = baseCar();
    base.motor.mass_kg = 0.25;
    ChooseSet set = shelf(base);
    set.motors[1].values.mass_kg = 0.4;
    set.motors[2].values.mass_kg.reset();
    for (const ChooseRow& row : choosePower(set, {.rank = {}, .runs = 2, .work = {}}).rows) {
        const double more = row.motor == 1 ? 0.4 - 0.25 : 0.0;
        EXPECT_NEAR(row.plan.vehicle.mass_kg, base.vehicle.mass_kg + more, 1e-12);
        const bool noted = std::any_of(row.notes.begin(), row.notes.end(),
                                       [](auto& note) { return note.find("motor-3") != std::string::npos; });
        EXPECT_EQ(noted, row.motor == 2);
        // A part's own uncertainties come with it.
        EXPECT_EQ(row.plan.uncertainty.contains("motor.kv_rpm_per_V"), true);
    }
}

TEST(ChoosePower, TooManyCellsForTheControllerAreLeftOutAndNamed) {
    ChooseSet set = shelf(baseCar());
    set.controllers[1].values.max_cells = set.base.pack.series - 1;
    const ChooseResult result = choosePower(set, {.rank = {}, .runs = 2, .work = {}});
    EXPECT_EQ(result.rows.size(), 9U);
    ASSERT_EQ(result.leftOut.size(), 3U);
    for (const ChooseLeftOut& one : result.leftOut) {
        EXPECT_EQ(one.controller, "controller-2");
        EXPECT_EQ(one.pack, "pack-1");
        EXPECT_THAT(one.why, HasSubstr("rated for"));
    }
}

TEST(ChoosePower, NothingToChooseFromIsSaid) {
    const auto complaint = [](auto change) {
        ChooseSet set = shelf(baseCar());
        change(set);
        try {
            static_cast<void>(choosePower(set, {.rank = {}, .runs = 2, .work = {}}));
        } catch (const InputError& error) {
            return std::string(error.what());
        }
        return std::string("no complaint");
    };
    EXPECT_THAT(complaint([](ChooseSet& s) { s.motors.clear(); }), HasSubstr("motors"));
    EXPECT_THAT(complaint([](ChooseSet& s) { s.packs.clear(); }), HasSubstr("packs"));
    EXPECT_THAT(complaint([](ChooseSet& s) { s.base.vehicle.mesh_max_m = s.base.vehicle.mesh_min_m = 0.001; }),
                HasSubstr("gears"));
}

TEST(ChoosePower, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    const ChooseOptions options{.rank = {}, .runs = 2, .work = {stop.get_token(), {}, 2}};
    EXPECT_THROW((void)choosePower(shelf(baseCar()), options), Stopped);
}

} // namespace

} // namespace rw::testing
