#include "core/learn/noise.h"

#include "core/review/rows.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace rw::learning {

namespace {

constexpr double robust = 2.5; // noises
constexpr double uniform2 = 1.0 / 12.0;

std::vector<const Reading*> readingsOf(const Day& day) {
    std::vector<const Reading*> out;
    for (const Piece& piece : day.pieces)
        for (const Reading& reading : piece.readings)
            out.push_back(&reading);
    return out;
}

// Rounding, less where rows of a block differ and their mean is finer than a step.
double floorOf(const Day& day, const Group& group, const std::vector<const Reading*>& readings) {
    constexpr std::array<double, sensorCount> least{1e-3, 1e-2, 1e-2, 0.1, 0.01, 5e-4, 3e-3, 3e-3, 3e-3, 0.0, 0.0};
    const auto s = static_cast<std::size_t>(group.sensor);
    std::size_t flickering = 0;
    double shares = 0.0;
    for (const std::size_t i : group.readings) {
        flickering += readings[i]->highest > readings[i]->lowest ? 1 : 0;
        shares += 1.0 / static_cast<double>(readings[i]->rows);
    }
    const bool fine = 2 * flickering > group.readings.size();
    const double share = fine ? shares / static_cast<double>(group.readings.size()) : 1.0;
    return std::max(least[s], day.step[s] * std::sqrt(uniform2 * share));
}

} // namespace

double noiseOfChanges(const std::vector<double>& values) {
    std::vector<double> squares;
    for (std::size_t i = 2; i < values.size(); ++i)
        squares.push_back(std::abs(values[i] - 2.0 * values[i - 1] + values[i - 2]));
    const double median = review::medianOf(squares);
    constexpr double perDeviation = 0.6745 * 2.449489742783178; // median of |N(0, 6)|
    return std::isfinite(median) ? median / perDeviation : 0.0;
}

std::vector<Group> groupsOf(const Day& day, const std::vector<std::uint8_t>& steep) {
    std::map<std::tuple<std::size_t, Sensor, bool>, Group> found;
    std::size_t index = 0;
    for (std::size_t p = 0; p < day.pieces.size(); ++p)
        for (const Reading& reading : day.pieces[p].readings) {
            if (reading.used && steep[index] == 0) {
                Group& group = found[{p, reading.sensor, reading.driven}];
                group.piece = p, group.sensor = reading.sensor, group.driven = reading.driven;
                group.readings.push_back(index);
            }
            ++index;
        }
    const std::vector<const Reading*> readings = readingsOf(day);
    std::vector<Group> out;
    for (auto& [key, group] : found) {
        std::vector<double> values;
        for (const std::size_t i : group.readings)
            values.push_back(readings[i]->value);
        group.changes = std::max(floorOf(day, group, readings), noiseOfChanges(values));
        out.push_back(std::move(group));
    }
    return out;
}

double effectiveCount(const std::vector<double>& residuals) {
    const std::size_t n = residuals.size();
    if (n < 4) return n > 0 ? 1.0 + 0.5 * static_cast<double>(n - 1) : 0.0;
    double zero = 0.0;
    for (const double r : residuals)
        zero += r * r;
    if (!(zero > 0.0)) return static_cast<double>(n);
    const double whites = 1.0 / std::sqrt(static_cast<double>(n)); // a white series' own correlation
    double sum = 0.0;
    for (std::size_t lag = 1; lag < n; ++lag) {
        double product = 0.0;
        for (std::size_t i = lag; i < n; ++i)
            product += residuals[i] * residuals[i - lag];
        const double correlation = product / zero;
        if (correlation < whites) break;
        sum += correlation;
    }
    return std::max(1.0, static_cast<double>(n) / (1.0 + 2.0 * sum));
}

std::vector<double> firstWeights(const Day& day, std::vector<Group>& groups) {
    const std::vector<const Reading*> readings = readingsOf(day);
    std::vector<double> out(readings.size(), 0.0);
    for (Group& group : groups) {
        std::vector<double> values;
        for (const std::size_t i : group.readings)
            values.push_back(readings[i]->value);
        group.noise = group.changes;
        group.effective = static_cast<double>(values.size());
        // What the model cannot yet follow leans the same way: a hundredth of the range, worth ten readings.
        const auto [low, high] = std::minmax_element(values.begin(), values.end());
        constexpr double share = 0.01, worth = 10.0;
        const double count = std::max(1.0, group.effective / worth);
        const double start = std::sqrt(group.noise * group.noise + count * std::pow(share * (*high - *low), 2));
        for (const std::size_t i : group.readings)
            out[i] = 1.0 / (readings[i]->noise > 0.0 ? readings[i]->noise : start);
    }
    return out;
}

std::vector<double> weights(const Day& day, std::vector<Group>& groups, const std::vector<double>& residuals,
                            Weighing weighing) {
    const std::vector<const Reading*> readings = readingsOf(day);
    std::vector<double> out(readings.size(), 0.0);
    std::map<std::pair<Sensor, bool>, std::vector<double>> squares; // mean squares of the groups
    for (Group& group : groups) {
        std::vector<double> squared;
        for (const std::size_t i : group.readings)
            squared.push_back(residuals[i] * residuals[i]);
        double sum = 0.0;
        for (const double s : squared)
            sum += s;
        group.rms = std::sqrt(sum / static_cast<double>(squared.size()));
        squares[{group.sensor, group.driven}].push_back(group.rms * group.rms);
    }
    for (Group& group : groups) {
        if (group.sensor == Sensor::Peak || group.sensor == Sensor::Zone) {
            group.effective = static_cast<double>(group.readings.size());
            for (const std::size_t i : group.readings)
                out[i] = 1.0 / (group.noise = readings[i]->noise);
            continue;
        }
        std::vector<double> all = squares[{group.sensor, group.driven}];
        const double usual = std::sqrt(review::medianOf(all));
        group.noise = std::max(floorOf(day, group, readings),
                               weighing == Weighing::White ? group.changes : std::max(group.rms, usual));
        std::vector<double> clipped;
        for (const std::size_t i : group.readings)
            clipped.push_back(std::clamp(residuals[i], -robust * group.noise, robust * group.noise));
        group.effective =
            weighing != Weighing::Effective ? static_cast<double>(clipped.size()) : effectiveCount(clipped);
        const double share = std::sqrt(group.effective / static_cast<double>(clipped.size()));
        for (const std::size_t i : group.readings) {
            const double size = std::abs(residuals[i]) / group.noise;
            out[i] = share / group.noise * (size > robust ? std::sqrt(robust / size) : 1.0);
        }
    }
    return out;
}

} // namespace rw::learning
