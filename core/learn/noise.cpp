#include "core/learn/noise.h"

#include "core/review/rows.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
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

// Rounding is finer than a step where rows of a block differ: then it is noise like any other, and their mean's is
// less.
std::vector<double> expectedOf(const Day& day, const Group& group, const std::vector<const Reading*>& readings) {
    std::size_t flickering = 0;
    for (const std::size_t i : group.readings)
        flickering += readings[i]->highest > readings[i]->lowest ? 1 : 0;
    const bool fine = 2 * flickering > group.readings.size();
    const double rounding = day.step[static_cast<std::size_t>(group.sensor)] * std::sqrt(uniform2);
    std::vector<double> out;
    for (const std::size_t i : group.readings) {
        const double share = 1.0 / std::sqrt(static_cast<double>(readings[i]->rows));
        const double own = std::max(readings[i]->rowNoise, fine ? rounding : 0.0) * share;
        out.push_back(std::max({sensorInfo(group.sensor).leastNoise, own, fine ? 0.0 : rounding}));
    }
    return out;
}

// How much more neighbouring readings differ than they are expected to.
double excessOfChanges(const std::vector<double>& values, const std::vector<double>& expected) {
    std::vector<double> changes;
    for (std::size_t i = 2; i < values.size(); ++i) {
        const double own = std::hypot(expected[i], 2.0 * expected[i - 1], expected[i - 2]);
        changes.push_back(std::abs(values[i] - 2.0 * values[i - 1] + values[i - 2]) / own);
    }
    const double median = review::medianOf(changes);
    constexpr double perDeviation = 0.6745; // median of |N(0, 1)|
    return std::isfinite(median) ? std::max(1.0, median / perDeviation) : 1.0;
}

double rootMeanSquare(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double v : values)
        sum += v * v;
    return values.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(values.size()));
}

// The common error with which residuals are as large as they should be; 0 where they are without it.
double commonError(const std::vector<double>& residuals, const std::vector<double>& expected) {
    const auto excess = [&](double common) {
        double sum = 0.0;
        for (std::size_t i = 0; i < residuals.size(); ++i)
            sum += residuals[i] * residuals[i] / (expected[i] * expected[i] + common * common);
        return sum - static_cast<double>(residuals.size());
    };
    if (excess(0.0) <= 0.0) return 0.0;
    const double most = 1.01 * rootMeanSquare(residuals);
    std::uintmax_t iterations = 60;
    constexpr int bits = 12;
    const auto [low, high] =
        boost::math::tools::bisect(excess, 0.0, most, boost::math::tools::eps_tolerance<double>(bits), iterations);
    return 0.5 * (low + high);
}

} // namespace

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
        group.expected = expectedOf(day, group, readings);
        const double excess = excessOfChanges(values, group.expected);
        group.changes = excess * rootMeanSquare(group.expected);
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
    std::map<std::pair<Sensor, bool>, std::vector<double>> commons; // of the same channel's groups
    for (Group& group : groups) {
        std::vector<double> left;
        for (const std::size_t i : group.readings)
            left.push_back(residuals[i]);
        group.rms = rootMeanSquare(left);
        group.common = commonError(left, group.expected);
        commons[{group.sensor, group.driven}].push_back(group.common);
    }
    for (Group& group : groups) {
        const std::size_t count = group.readings.size();
        if (isNoted(group.sensor)) {
            group.effective = static_cast<double>(count);
            for (const std::size_t i : group.readings)
                out[i] = 1.0 / (group.noise = readings[i]->noise);
            continue;
        }
        group.common = std::max(group.common, review::medianOf(commons[{group.sensor, group.driven}]));
        const double excess = group.changes / rootMeanSquare(group.expected);
        std::vector<double> noise, sizes, clipped;
        for (std::size_t k = 0; k < count; ++k) {
            const double own = group.expected[k];
            noise.push_back(weighing == Weighing::White ? excess * own : std::hypot(own, group.common));
            sizes.push_back(residuals[group.readings[k]] / noise[k]);
            clipped.push_back(std::clamp(sizes[k], -robust, robust));
        }
        group.noise = rootMeanSquare(noise);
        group.effective = weighing != Weighing::Effective ? static_cast<double>(count) : effectiveCount(clipped);
        const double share = std::sqrt(group.effective / static_cast<double>(count));
        for (std::size_t k = 0; k < count; ++k) {
            const double size = std::abs(sizes[k]);
            out[group.readings[k]] = share / noise[k] * (size > robust ? std::sqrt(robust / size) : 1.0);
        }
    }
    return out;
}

} // namespace rw::learning
