// A garage of 200 setups, 1,000 logs and 10,000 passes: lists, filters, searches; and adding a log of 10 MB.
#include "core/log/import.h"
#include "core/review/review.h"
#include "storage/garage.h"
#include "storage/log_record.h"

#include <benchmark/benchmark.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <future>
#include <random>

namespace {

namespace fs = std::filesystem;

struct Folder {
    fs::path path = fs::temp_directory_path() / ("runwright-benchmark-" + std::to_string(::getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
};

// Rows as a controller writes them at 50 Hz: passes of ten seconds a minute apart.
std::string logText(std::size_t bytes, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise(0.0, 1.0);
    std::string out = "Time [s],Throttle [%],Output [%],Voltage [V],Current [A],Motor speed [rpm],Controller "
                      "temperature [C],Motor temperature [C]\n";
    char row[160];
    for (int i = 0; out.size() < bytes; ++i) {
        const double t = i * 0.02;
        const double within = std::fmod(t, 60.0);
        const bool driving = within > 30.0 && within < 40.0;
        const double share = driving ? std::min(1.0, (within - 30.0) / 2.0) : 0.0;
        const double current = driving ? 150.0 * share + 2.0 * noise(random) : 0.4 + 0.1 * noise(random);
        const int length =
            std::snprintf(row, sizeof row, "%.3f,%.1f,%.1f,%.2f,%.1f,%.0f,%.1f,%.1f\n", t, 100.0 * share, 100.0 * share,
                          25.0 - 0.014 * current + 0.01 * noise(random), current,
                          driving ? 40000.0 * share + 20.0 * noise(random) : 0.0, 30.0 + t * 0.001, 32.0 + t * 0.002);
        out.append(row, static_cast<std::size_t>(length));
    }
    return out;
}

rw::PlanInput anyPlan() {
    rw::PlanInput p;
    p.venue = {400.0, 110.0, 30.0, 0.0, 0.0, 1.2};
    p.vehicle.mass_kg = 4.3, p.vehicle.wheelbase_m = 0.33, p.vehicle.cg_behind_front_m = 0.16,
    p.vehicle.cg_height_m = 0.036;
    p.vehicle.drag_area_m2 = 0.021, p.vehicle.rolling_c0 = 0.02, p.vehicle.driveline_efficiency = 0.9;
    p.tyre = {0.046, 0.03, 1200.0, 15.0, {}};
    p.gears = {0.0008, 24, 54, {24}, {54}};
    p.motor.kv_rpm_per_V = 1750.0, p.motor.resistance_ohm = 0.007, p.motor.no_load_current_A = 5.2,
    p.motor.no_load_voltage_V = 22.2;
    p.motor.winding_capacity_JpK = 40.0, p.motor.case_capacity_JpK = 190.0, p.motor.winding_case_KpW = 0.28,
    p.motor.case_air_KpW = 2.8;
    p.controller.resistance_ohm = 0.001, p.controller.capacity_JpK = 110.0, p.controller.case_air_KpW = 2.6;
    p.pack.series = 6, p.pack.capacity_Ah = 6.0, p.pack.cell_resistance_ohm = 0.0014, p.pack.capacity_JpK = 700.0,
    p.pack.case_air_KpW = 4.0;
    return p;
}

rw::LogRecord smallLog(unsigned number, const std::string& text) {
    rw::LogRecord out;
    out.name = "log " + std::to_string(number) + ".csv";
    out.packed = rw::packLog(text);
    out.review = "{}";
    out.notes = number % 50 == 0 ? "crosswind on the second pass" : "calm";
    out.started = "2026-0" + std::to_string(1 + number % 9) + "-1" + std::to_string(number % 10) + "T10:00";
    out.sessions = {{0, 100, 1, 101, 0.0, 100.0, 6, 25.0, {}, {}}};
    for (int i = 0; i < 10; ++i) {
        rw::PassRecord pass;
        pass.start_s = 10.0 * i, pass.end_s = 10.0 * i + 8.0;
        for (const rw::PassFigure& figure : rw::passFigures())
            pass.figures.emplace(figure.key,
                                 30.0 + 0.01 * static_cast<double>((number * 10 + static_cast<unsigned>(i)) % 1500));
        out.passes.push_back(std::move(pass));
    }
    return out;
}

// Made once for all benchmarks.
struct LargeGarage {
    Folder folder;
    std::string path = (folder.path / "large.garage").string();
    std::uintmax_t logBytes = 0;
    LargeGarage() {
        rw::Garage::create(path, {}, [this](rw::Garage& garage) {
            std::vector<rw::Id> setups{garage.addSetupFromPlan(anyPlan(), {}).setup};
            while (setups.size() < 200)
                setups.push_back(garage.revise(garage.setup(setups.back()), "a step"));
            const std::string body = logText(60'000, 1);
            for (unsigned i = 0; i < 1000; ++i) {
                const std::string text = "# " + std::to_string(i) + "\n" + body;
                logBytes += text.size();
                rw::LogRecord log = smallLog(i, text);
                log.setup = setups[i % setups.size()];
                garage.addLog(log);
            }
        });
    }
};

rw::Garage& large() {
    static LargeGarage made;
    static rw::Garage garage = rw::Garage::open(made.path);
    return garage;
}

void listPasses(benchmark::State& state) {
    rw::Garage& garage = large();
    for (auto _ : state) {
        const auto passes = garage.passes({});
        if (passes.size() != 10'000) state.SkipWithError("passes are missing");
    }
}

void filterPasses(benchmark::State& state) {
    rw::Garage& garage = large();
    rw::PassFilter filter;
    filter.setup = rw::Id{rw::ItemKind::Setup, 17};
    filter.speedFrom_mps = 35.0;
    filter.order = rw::PassFilter::Order::Fastest;
    for (auto _ : state)
        benchmark::DoNotOptimize(garage.passes(filter));
}

void listSetups(benchmark::State& state) {
    rw::Garage& garage = large();
    for (auto _ : state)
        benchmark::DoNotOptimize(garage.setups());
}

void listLogs(benchmark::State& state) {
    rw::Garage& garage = large();
    for (auto _ : state)
        benchmark::DoNotOptimize(garage.logs());
}

void search(benchmark::State& state) {
    rw::Garage& garage = large();
    for (auto _ : state)
        if (garage.search("cross seco").size() != 20) state.SkipWithError("finds are missing");
}

void bestPasses(benchmark::State& state) {
    rw::Garage& garage = large();
    for (auto _ : state)
        benchmark::DoNotOptimize(garage.bestPasses());
}

// The time to read alone, and with keeping: the latter at most twice the former.
void readLog(benchmark::State& state) {
    const std::string text = logText(10'000'000, 2);
    for (auto _ : state) {
        const rw::Log log = rw::importLog(text, "large.csv");
        benchmark::DoNotOptimize(rw::reviewLog(log));
    }
}

void addLog(benchmark::State& state) {
    const Folder folder;
    rw::Garage garage = rw::Garage::create((folder.path / "add.garage").string());
    const std::string text = logText(10'000'000, 2);
    double packed = 0.0;
    for (auto _ : state) {
        std::future<rw::PackedLog> packing = std::async(std::launch::async, [&text] { return rw::packLog(text); });
        const rw::Log log = rw::importLog(text, "large.csv");
        const rw::LogReview review = rw::reviewLog(log);
        const rw::AddedLog added = garage.addLog(rw::logRecord(packing.get(), log, review));
        state.PauseTiming();
        packed = static_cast<double>(garage.log(added.log).packedSize);
        garage.remove(added.log);
        state.ResumeTiming();
    }
    state.counters["packed_share"] = packed / static_cast<double>(text.size());
}

} // namespace

BENCHMARK(listPasses)->Name("garage/list-passes-10000")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(filterPasses)->Name("garage/filter-passes-10000")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(listSetups)->Name("garage/list-setups-200")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(listLogs)->Name("garage/list-logs-1000")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(bestPasses)->Name("garage/best-passes-10000")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(search)->Name("garage/search")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(readLog)->Name("garage/read-log-10MB")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(addLog)->Name("garage/add-log")->Unit(benchmark::kMillisecond)->UseRealTime();
