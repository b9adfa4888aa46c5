// The gear table and the spread on two threads, as people wait for them.
#include "core/plan/gears.h"
#include "core/plan/plan_json.h"
#include "core/plan/spread.h"

#include <benchmark/benchmark.h>

namespace {

rw::PlanInput heavyCar() {
    return rw::readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_heavy_all_wheel_drive.json");
}

// 20 pinions by 10 spurs.
void gears200(benchmark::State& state) {
    rw::PlanInput plan = heavyCar();
    plan.vehicle.mesh_min_m = 0.0, plan.vehicle.mesh_max_m = 1.0;
    plan.gears.pinions.clear(), plan.gears.spurs.clear();
    for (int teeth = 22; teeth < 42; ++teeth)
        plan.gears.pinions.push_back(teeth);
    for (int teeth = 42; teeth < 52; ++teeth)
        plan.gears.spurs.push_back(teeth);
    for (auto _ : state) {
        const rw::GearTable table =
            rw::sweepGears(plan, rw::GearRank::Fastest, {.stop = {}, .progress = {}, .threads = 2});
        if (table.rows.size() != 200) state.SkipWithError("not 200 pairs");
    }
}

void spread10000(benchmark::State& state) {
    rw::PlanInput plan = heavyCar();
    plan.drive.passes = 1;
    for (auto _ : state) {
        const rw::SpreadResult spread = rw::spreadPlan(plan, {10'000, 1, {.stop = {}, .progress = {}, .threads = 2}});
        benchmark::DoNotOptimize(spread.completedProbability);
    }
}

} // namespace

BENCHMARK(gears200)->Name("gears/200")->Unit(benchmark::kMillisecond);
BENCHMARK(spread10000)->Name("spread/10000")->Unit(benchmark::kMillisecond);
