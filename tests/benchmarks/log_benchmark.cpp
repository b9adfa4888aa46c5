// Reading a long log: 100 MB of nine columns from a file, up to the findings.
#include "core/log/import.h"
#include "core/log/log.h"
#include "core/review/review.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <unistd.h>
#include <vector>

namespace {

constexpr double rate_Hz = 50.0;
constexpr std::size_t passRows = 3000; // a pass and the wait behind it: one minute

// The columns behind the time of one minute: a pass of six seconds, then cooling. Plausible numbers, invented.
std::vector<std::string> minuteOfRows() {
    std::mt19937 random(1);
    std::normal_distribution<double> noise(0.0, 1.0);
    std::vector<std::string> rows;
    for (std::size_t i = 0; i < passRows; ++i) {
        const double t = static_cast<double>(i) / rate_Hz;
        const bool running = t > 20.0 && t < 26.0;
        const double throttle = running ? std::min(1.0, (t - 20.0) / 0.5) : 0.0;
        const double speed =
            running ? 1.0 - std::exp(-(t - 20.0) / 1.5) : std::exp(-std::abs(t - 26.0) / 1.0) * (t > 26.0);
        const double current = throttle * (140.0 - 90.0 * speed) + (running ? 1.5 * noise(random) : 0.0);
        const double voltage = 25.1 - 0.02 * current + 0.01 * noise(random);
        const double heat = t > 26.0 ? std::exp(-(t - 26.0) / 20.0) : std::max(0.0, (t - 20.0) / 6.0);
        char row[160];
        std::snprintf(row, sizeof row, ",%.2f,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.2f\n", voltage, current, 100.0 * throttle,
                      100.0 * throttle, 48000.0 * speed, 32.0 + 22.0 * heat, 35.0 + 30.0 * heat, 0.004 * current);
        rows.emplace_back(row);
    }
    return rows;
}

// Packs are changed every ten minutes: the clock jumps.
std::string logOf(std::size_t bytes) {
    const std::vector<std::string> minute = minuteOfRows();
    std::string text =
        "Time (s),Pack Voltage (V),Pack Current (A),Throttle (%),Output (%),Motor RPM,ESC Temp (C),Motor Temp (C),"
        "Ripple (V)\n";
    text.reserve(bytes + 256);
    for (std::size_t row = 0; text.size() < bytes; ++row) {
        char stamp[32];
        const double pause = 300.0 * static_cast<double>(row / (10 * passRows));
        std::snprintf(stamp, sizeof stamp, "%.2f", static_cast<double>(row) / rate_Hz + pause);
        text += stamp;
        text += minute[row % passRows];
    }
    return text;
}

// A file that is gone with the program.
class TemporaryFile {
public:
    explicit TemporaryFile(const std::string& content)
        : path_(std::filesystem::temp_directory_path() /
                ("runwright-benchmark-" + std::to_string(::getpid()) + ".csv")) {
        std::ofstream(path_, std::ios::binary) << content;
    }
    ~TemporaryFile() { std::filesystem::remove(path_); }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    [[nodiscard]] std::string path() const { return path_.string(); }

private:
    std::filesystem::path path_;
};

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
    static const TemporaryFile file(logOf(100'000'000));
    return file;
}

void importAndReview(benchmark::State& state) {
    run(state, hundredMegabytes().path(), [](const rw::Log& log) {
        rw::LogReview review = rw::reviewLog(log);
        benchmark::DoNotOptimize(review);
    });
}

void importOnly(benchmark::State& state) {
    run(state, hundredMegabytes().path(), [](const rw::Log& log) { benchmark::DoNotOptimize(log.time.data()); });
}

// Cost is linear in the bytes.
void importSized(benchmark::State& state) {
    const TemporaryFile file(logOf(static_cast<std::size_t>(state.range(0)) * 1'000'000));
    run(state, file.path(), [](const rw::Log& log) { benchmark::DoNotOptimize(log.time.data()); });
    state.SetComplexityN(state.range(0));
}

} // namespace

BENCHMARK(importAndReview)->Name("import/100MB")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(importOnly)->Name("import/100MBRowsOnly")->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2.0);
BENCHMARK(importSized)
    ->Name("import/linear")
    ->Arg(1)
    ->Arg(10)
    ->Arg(50)
    ->Complexity(benchmark::oN)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
