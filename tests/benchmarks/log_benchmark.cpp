// Reading a long log: 100 MB of nine columns from a file, up to the findings.
#include "core/log/gps.h"
#include "core/log/import.h"
#include "core/log/log.h"
#include "core/review/review.h"
#include "tests/benchmarks/long_log.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

namespace {

using rw::test::longLogText;
using rw::test::longTrackText;
using rw::test::TemporaryFile;

// Resident memory in bytes: now ("VmRSS:") or at most since the last reset ("VmHWM:").
double residentBytes(const std::string& name) {
    std::ifstream status("/proc/self/status");
    std::string word;
    double kilobytes = 0.0;
    while (status >> word)
        if (word == name && status >> kilobytes) break;
    return kilobytes * 1024.0;
}

void resetPeak() { std::ofstream("/proc/self/clear_refs") << "5"; }

double keptBytes(const rw::Log& log) {
    std::size_t bytes = log.time.size() * sizeof(double) + log.line.size() * sizeof(std::uint32_t);
    for (const rw::Channel& channel : log.channels)
        bytes += channel.values.size() * sizeof(double);
    return static_cast<double>(bytes);
}

template<class Read>
void run(benchmark::State& state, const std::string& path, Read read) {
    const auto bytes = std::filesystem::file_size(path);
    double most = 0.0;
    for (auto _ : state) {
        state.PauseTiming();
        resetPeak();
        const double before = residentBytes("VmRSS:");
        state.ResumeTiming();
        const rw::Log log = rw::importLogFile(path);
        read(log);
        state.PauseTiming();
        most = std::max(most, (residentBytes("VmHWM:") - before) / keptBytes(log));
        state.ResumeTiming();
    }
    state.SetBytesProcessed(static_cast<std::int64_t>(bytes * state.iterations()));
    state.counters["peak_over_columns"] = most;
}

const TemporaryFile& hundredMegabytes() {
    static const TemporaryFile file(longLogText(100'000'000));
    return file;
}

void review(const rw::Log& log) {
    rw::LogReview found = rw::reviewLog(log);
    benchmark::DoNotOptimize(found);
}

void importAndReview(benchmark::State& state) { run(state, hundredMegabytes().path(), review); }

// Few distinct values and long flat stretches must cost no more.
void importCoarse(benchmark::State& state) {
    static const TemporaryFile file(longLogText(100'000'000, true));
    run(state, file.path(), review);
}

// Cost is linear in rows and in flat runs.
void reviewCoarseSized(benchmark::State& state) {
    const TemporaryFile file(longLogText(static_cast<std::size_t>(state.range(0)) * 1'000'000, true));
    run(state, file.path(), review);
    state.SetComplexityN(state.range(0));
}

void readTrack(benchmark::State& state) {
    const TemporaryFile file(longTrackText(1'000'000));
    for (auto _ : state) {
        const rw::GpsTrack track = rw::readGpsFile(file.path());
        benchmark::DoNotOptimize(track.fixes.data());
    }
    state.SetItemsProcessed(1'000'000 * state.iterations());
}

void importOnly(benchmark::State& state) {
    run(state, hundredMegabytes().path(), [](const rw::Log& log) { benchmark::DoNotOptimize(log.time.data()); });
}

// Cost is linear in the bytes.
void importSized(benchmark::State& state) {
    const TemporaryFile file(longLogText(static_cast<std::size_t>(state.range(0)) * 1'000'000));
    run(state, file.path(), [](const rw::Log& log) { benchmark::DoNotOptimize(log.time.data()); });
    state.SetComplexityN(state.range(0));
}

} // namespace

BENCHMARK(importAndReview)->Name("import/100MB")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(importCoarse)->Name("import/100MB-coarse")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(reviewCoarseSized)
    ->Name("import/coarse-linear")
    ->Arg(1)
    ->Arg(10)
    ->Arg(50)
    ->Complexity(benchmark::oN)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(readTrack)->Name("import/gpx-1M")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(importOnly)->Name("import/100MBRowsOnly")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(importSized)
    ->Name("import/linear")
    ->Arg(1)
    ->Arg(10)
    ->Arg(50)
    ->Complexity(benchmark::oN)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
