#include "tests/benchmarks/long_log.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <random>
#include <unistd.h>
#include <vector>

namespace rw::test {

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

} // namespace

// Packs are changed every ten minutes: the clock jumps.
std::string longLogText(std::size_t bytes) {
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

TemporaryFile::TemporaryFile(const std::string& content) {
    static int made = 0;
    path_ = std::filesystem::temp_directory_path() /
            ("runwright-benchmark-" + std::to_string(::getpid()) + "-" + std::to_string(++made) + ".csv");
    std::ofstream(path_, std::ios::binary) << content;
}

} // namespace rw::test
