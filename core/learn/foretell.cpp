#include "core/learn/report.h"

#include "core/plan/normal.h"
#include "core/units.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

namespace rw::learning {

namespace {

constexpr double within90 = 1.6448536269514722; // deviations that hold 90 % of a normal distribution

struct Sought {
    std::string_view key; // of passFigures()
    Sensor sensor;
    double sign; // +1 largest, -1 lowest
    double scale, offset;
};

constexpr std::array sought{
    Sought{"motor_peak_rpm", Sensor::MotorSpeed, 1.0, rpmPerRadps, 0.0},
    Sought{"min_V", Sensor::Voltage, -1.0, 1.0, 0.0}, Sought{"peak_A", Sensor::Current, 1.0, 1.0, 0.0},
    Sought{"motor_soak_C", Sensor::Case, 1.0, 1.0, 0.0}, Sought{"zone_speed_mps", Sensor::Zone, 1.0, 1.0, 0.0}};

struct Extreme {
    double median = 0.0, deviation = 0.0;
};

struct Expected {
    double value = 0.0, rows = 1.0; // so many rows are read around it
};

// The largest of independent normal rows around the expected ones: the product of their distributions, inverted.
Extreme extremeOf(const std::vector<Expected>& expected, double noise) {
    const double most = std::max_element(expected.begin(), expected.end(), [](const Expected& a, const Expected& b) {
                            return a.value < b.value;
                        })->value;
    if (!(noise > 0.0)) return {most, 0.0};
    const auto quantile = [&](double share) {
        const auto lack = [&](double at) {
            double logarithm = -std::log(share);
            for (const Expected& e : expected)
                if (at - e.value < 8.0 * noise) logarithm += e.rows * std::log(normalShare((at - e.value) / noise));
            return logarithm;
        };
        std::uintmax_t iterations = 60;
        const auto [low, high] = boost::math::tools::bisect(lack, most - 6.0 * noise, most + 8.0 * noise,
                                                            boost::math::tools::eps_tolerance<double>(40), iterations);
        return 0.5 * (low + high);
    };
    return {quantile(0.5), (quantile(0.95) - quantile(0.05)) / (2.0 * within90)};
}

std::optional<ForetoldFigure> figureOf(const Sought& what, const Problem& problem, const Estimated& without,
                                       const Estimated& found, std::size_t first) {
    const Piece& piece = problem.day.pieces.back();
    std::optional<std::size_t> model;
    std::optional<double> seen;
    std::vector<Expected> expected; // with the sign that makes the extreme the largest
    for (std::size_t i = 0; i < piece.readings.size(); ++i) {
        const Reading& reading = piece.readings[i];
        if (reading.sensor != what.sensor || !reading.used) continue;
        if (what.sensor != Sensor::Case && what.sensor != Sensor::Zone && !reading.driven) continue;
        expected.push_back({what.sign * without.prediction.values[first + i], static_cast<double>(reading.rows)});
        if (!model ||
            what.sign * without.prediction.values[first + i] > what.sign * without.prediction.values[first + *model])
            model = i;
        const bool noted = what.sensor == Sensor::Zone;
        const double extreme = noted ? reading.value : what.sign > 0.0 ? reading.highest : reading.lowest;
        if (!seen || what.sign * extreme > what.sign * *seen) seen = extreme;
    }
    if (!model) return std::nullopt;
    // Rows differ by their noise; the extreme among them is rounded as it is; what the model does not follow is theirs
    // in common.
    const Reading& there = piece.readings[*model];
    const double step = problem.day.step[static_cast<std::size_t>(what.sensor)];
    const double rounding2 = step * step / 12.0;
    const double noise = std::max(there.noise, std::sqrt(std::max(0.0, there.rowNoise * there.rowNoise - rounding2)));
    double common = 0.0;
    for (const Group& group : found.groups)
        if (group.piece + 1 == problem.day.pieces.size() && group.sensor == what.sensor && group.driven == there.driven)
            common = group.common;
    const Eigen::RowVectorXd slope = without.prediction.jacobian.row(static_cast<Eigen::Index>(first + *model));
    // What is seen is the extreme of readings with noise: it lies beyond the model's own.
    const Extreme extreme = extremeOf(expected, noise);
    const double error = std::sqrt(slope * without.covariance * slope.transpose() +
                                   extreme.deviation * extreme.deviation + rounding2 + common * common);
    ForetoldFigure out;
    out.name = what.key;
    out.mean = what.scale * what.sign * extreme.median;
    out.low = out.mean - what.scale * within90 * error;
    out.high = out.mean + what.scale * within90 * error;
    out.seen = what.scale * *seen;
    out.inside = *out.seen >= out.low && *out.seen <= out.high;
    return out;
}

} // namespace

std::optional<Foretold> foretellLast(const Problem& problem, const Estimated& found, const LearnOptions& options) {
    EstimateOptions how;
    how.start = found.z;
    how.at = &found.prediction;
    how.without = problem.day.pieces.size() - 1;
    how.work = options.work;
    const Estimated without = estimate(problem, how);
    Foretold out;
    out.pass = problem.day.pieces.back().ref;
    std::size_t first = 0;
    for (std::size_t p = 0; p + 1 < problem.day.pieces.size(); ++p)
        first += problem.day.pieces[p].readings.size();
    for (const Sought& what : sought)
        if (auto figure = figureOf(what, problem, without, found, first)) out.figures.push_back(*figure);
    return out;
}

} // namespace rw::learning
