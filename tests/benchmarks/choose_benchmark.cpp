// Choosing among 500 combinations of 40 pairs and a whole size map, on two threads, as people wait for them.
#include "core/choose/choose_power.h"
#include "core/choose/size.h"
#include "core/plan/plan_json.h"

#include <benchmark/benchmark.h>

namespace {

rw::PlanInput heavyCar() {
    return rw::readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_heavy_all_wheel_drive.json");
}

// 10 motors, 5 controllers, 10 packs, 8 pinions by 5 spurs.
rw::ChooseSet largeShelf() {
    rw::ChooseSet set;
    set.base = heavyCar();
    set.base.drive.passes = 1;
    set.base.drive.target_mps = 45.0;
    set.base.vehicle.mesh_min_m = 0.0, set.base.vehicle.mesh_max_m = 1.0;
    set.base.gears.pinions.clear(), set.base.gears.spurs.clear();
    for (int teeth = 24; teeth < 40; teeth += 2)
        set.base.gears.pinions.push_back(teeth);
    for (int teeth = 42; teeth < 52; teeth += 2)
        set.base.gears.spurs.push_back(teeth);
    for (int i = 0; i < 10; ++i) {
        auto motor = set.base.motor;
        motor.kv_rpm_per_V *= 0.8 + 0.05 * i;
        set.motors.push_back({"motor-" + std::to_string(i + 1), "", motor, {}});
        auto pack = set.base.pack;
        pack.cell_resistance_ohm *= 0.8 + 0.05 * i;
        set.packs.push_back({"pack-" + std::to_string(i + 1), "", pack, {}});
    }
    for (int i = 0; i < 5; ++i) {
        auto controller = set.base.controller;
        controller.resistance_ohm *= 0.8 + 0.1 * i;
        set.controllers.push_back({"controller-" + std::to_string(i + 1), "", controller, {}});
    }
    return set;
}

void choose20000(benchmark::State& state) {
    const rw::ChooseSet set = largeShelf();
    for (auto _ : state) {
        const rw::ChooseResult result =
            rw::choosePower(set, {.rank = {}, .runs = 500, .work = {.stop = {}, .progress = {}, .threads = 2}});
        if (result.passes != 20'000) state.SkipWithError("not 20,000 passes");
    }
}

void size264(benchmark::State& state) {
    const rw::PlanInput plan = heavyCar();
    rw::SizeOptions options;
    options.work.threads = 2;
    for (auto _ : state) {
        const rw::SizeMap size = rw::sizePower(plan, 45.0, options);
        if (size.map.size() * size.kv.size() != 264) state.SkipWithError("not 264 points");
    }
}

// The first picture of the same map in the window.
void sizeFirst(benchmark::State& state) {
    const rw::PlanInput plan = heavyCar();
    rw::SizeOptions options;
    options.cellStep = 2, options.kvSteps = 6, options.refined = false, options.runs = 0;
    options.work.threads = 2;
    for (auto _ : state) {
        const rw::SizeMap size = rw::sizePower(plan, 45.0, options);
        if (size.map.size() * size.kv.size() != 36) state.SkipWithError("not 36 points");
    }
}

} // namespace

BENCHMARK(choose20000)->Name("choose/20000")->Unit(benchmark::kMillisecond);
BENCHMARK(size264)->Name("size/264")->Unit(benchmark::kMillisecond);
BENCHMARK(sizeFirst)->Name("size/36-first")->Unit(benchmark::kMillisecond);
