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

double stepped(double value, double step) { return std::round(value / step) * step; }

// The columns behind the time of one minute: a pass of six seconds, then cooling. Plausible numbers, invented.
std::vector<std::string> minuteOfRows(bool coarse) {
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
        const auto step = [coarse](double value, double size) { return coarse ? stepped(value, size) : value; };
        char row[160];
        std::snprintf(row, sizeof row, ",%.2f,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.2f\n", step(voltage, 0.5),
                      step(current, 10.0), 100.0 * throttle, 100.0 * throttle, step(48000.0 * speed, 4000.0),
                      step(32.0 + 22.0 * heat, 1.0), step(35.0 + 30.0 * heat, 1.0), step(0.004 * current, 0.1));
        rows.emplace_back(row);
    }
    return rows;
}

} // namespace

// Packs are changed every ten minutes: the clock jumps.
std::string longLogText(std::size_t bytes, bool coarse) {
    const std::vector<std::string> minute = minuteOfRows(coarse);
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

std::string longTrackText(std::size_t fixes) {
    std::string text = "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"invented\" "
                       "xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n";
    for (std::size_t i = 0; i < fixes; ++i) {
        const std::size_t second = i / 10;
        char point[200];
        std::snprintf(
            point, sizeof point,
            "<trkpt lat=\"%.7f\" lon=\"%.7f\"><ele>%.1f</ele><time>2026-05-%02zuT%02zu:%02zu:%02zu.%zuZ</time>"
            "</trkpt>\n",
            48.0 + 1e-6 * static_cast<double>(i % 1000), 11.0 + 1e-7 * static_cast<double>(i),
            500.0 + 0.1 * static_cast<double>(i % 100), 1 + second / 86'400, second / 3600 % 24, second / 60 % 60,
            second % 60, i % 10);
        text += point;
    }
    return text + "</trkseg></trk></gpx>\n";
}

TemporaryFile::TemporaryFile(const std::string& content) {
    static int made = 0;
    path_ = std::filesystem::temp_directory_path() /
            ("runwright-benchmark-" + std::to_string(::getpid()) + "-" + std::to_string(++made) + ".csv");
    std::ofstream(path_, std::ios::binary) << content;
}

} // namespace rw::test
