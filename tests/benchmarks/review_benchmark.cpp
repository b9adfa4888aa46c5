// A review of a million rows after import: five and a half hours at 50 Hz, nine quantities, eleven sessions, 150
// passes.
#include "core/review/review.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdint>

namespace {

using rw::Quantity;

// Even noise of a linear congruence: quick, and the same everywhere.
class Noise {
public:
    double operator()(double size) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return size * (static_cast<double>(state_ >> 11) * 0x1.0p-52 - 1.0);
    }

private:
    std::uint64_t state_ = 42;
};

rw::Log longLog(std::size_t rows) {
    constexpr double rate = 50.0, apart = 133.0, lasts = 8.0;
    constexpr std::size_t sessionRows = 90'909;
    rw::Log log;
    log.file = "long.csv";
    for (const Quantity q : {Quantity::Throttle, Quantity::Output, Quantity::PackVoltage, Quantity::PackCurrent,
                             Quantity::MotorSpeed, Quantity::ControllerTemperature, Quantity::MotorTemperature,
                             Quantity::PackTemperature, Quantity::ReceiverVoltage}) {
        log[q].values.resize(rows);
        log[q].interval_s = 1.0 / rate;
        log[q].step = 1e-4;
    }
    Noise noise;
    for (std::size_t i = 0; i < rows; ++i) {
        const double t = static_cast<double>(i % sessionRows) / rate, phase = std::fmod(t, apart) - 30.0;
        const bool on = phase > 0.0 && phase < lasts;
        const double throttle = on ? std::min(1.0, phase / 0.6) : 0.0;
        const double current = 0.5 + noise(0.2) + throttle * (50.0 + 70.0 * std::exp(-phase / 2.0));
        log.time.push_back(t);
        log.line.push_back(static_cast<std::uint32_t>(i + 2));
        log[Quantity::Throttle].values[i] = log[Quantity::Output].values[i] = throttle;
        log[Quantity::PackCurrent].values[i] = current;
        log[Quantity::PackVoltage].values[i] = 25.0 - 0.2 * t / 1800.0 - 0.01 * current + noise(0.01);
        log[Quantity::MotorSpeed].values[i] = on               ? 4300.0 * (1.0 - std::exp(-phase / 1.6)) + noise(3.0)
                                              : phase >= lasts ? std::max(0.0, 4200.0 - 1500.0 * (phase - lasts))
                                                               : 0.0;
        const double heat = phase < 0.0 ? 0.0 : 12.0 * (1.0 - std::exp(-phase / 10.0)) * std::exp(-phase / 60.0);
        log[Quantity::MotorTemperature].values[i] = 305.0 + heat + noise(0.05);
        log[Quantity::ControllerTemperature].values[i] = 303.0 + 0.4 * heat + noise(0.05);
        log[Quantity::PackTemperature].values[i] = 302.0 + 0.2 * heat + noise(0.05);
        log[Quantity::ReceiverVoltage].values[i] = 6.0 + noise(0.03);
    }
    log.report.rows = rows;
    return log;
}

void reviewRows(benchmark::State& state, std::size_t rows) {
    const rw::Log log = longLog(rows);
    std::size_t passes = 0;
    for (auto _ : state) {
        const rw::LogReview review = rw::reviewLog(log);
        passes = review.passes.size();
        benchmark::DoNotOptimize(passes);
    }
    state.counters["passes"] = static_cast<double>(passes);
    state.SetItemsProcessed(static_cast<std::int64_t>(rows) * state.iterations());
}

void reviewMillion(benchmark::State& state) { reviewRows(state, 1'000'000); }

} // namespace

BENCHMARK(reviewMillion)->Name("review/1Mrows")->Unit(benchmark::kMillisecond)->UseRealTime();
