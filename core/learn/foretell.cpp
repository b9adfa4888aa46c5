#include "core/learn/foretell.h"

#include "core/units.h"

#include <cmath>

namespace rw::learning {

namespace {

constexpr double within90 = 1.6448536269514722; // deviations that hold 90 % of a normal distribution

struct Sought {
    const char* name;
    const char* unit;
    Sensor sensor;
    double sign; // +1 largest, -1 lowest
    double scale, offset;
};

constexpr std::array sought{Sought{"motor_peak_rpm", "rpm", Sensor::MotorSpeed, 1.0, rpmPerRadps, 0.0},
                            Sought{"min_V", "V", Sensor::Voltage, -1.0, 1.0, 0.0},
                            Sought{"peak_A", "A", Sensor::Current, 1.0, 1.0, 0.0},
                            Sought{"motor_soak_C", "°C", Sensor::Case, 1.0, 1.0, 0.0},
                            Sought{"zone_speed_mps", "m/s", Sensor::Zone, 1.0, 1.0, 0.0}};

std::optional<ForetoldFigure> figureOf(const Sought& what, const Problem& problem, const Estimated& without,
                                       const Estimated& found, std::size_t first) {
    const Piece& piece = problem.day.pieces.back();
    std::optional<std::size_t> model, seen;
    std::size_t readings = 0;
    for (std::size_t i = 0; i < piece.readings.size(); ++i) {
        const Reading& reading = piece.readings[i];
        if (reading.sensor != what.sensor || !reading.used) continue;
        if (what.sensor != Sensor::Case && what.sensor != Sensor::Zone && !reading.driven) continue;
        ++readings;
        if (!model ||
            what.sign * without.prediction.values[first + i] > what.sign * without.prediction.values[first + *model])
            model = i;
        if (!seen || what.sign * reading.value > what.sign * piece.readings[*seen].value) seen = i;
    }
    if (!model) return std::nullopt;
    const Eigen::RowVectorXd slope = without.prediction.jacobian.row(static_cast<Eigen::Index>(first + *model));
    double noise = piece.readings[*model].noise;
    for (const Group& group : found.groups)
        if (group.piece + 1 == problem.day.pieces.size() && group.sensor == what.sensor)
            noise = std::max(noise, group.noise);
    const double error = std::sqrt(slope * without.covariance * slope.transpose() + noise * noise);
    ForetoldFigure out;
    out.name = what.name;
    out.unit = what.unit;
    out.mean = what.scale * without.prediction.values[first + *model];
    out.low = out.mean - what.scale * within90 * error;
    out.high = out.mean + what.scale * within90 * error;
    out.seen = what.scale * piece.readings[*seen].value;
    out.inside = *out.seen >= out.low && *out.seen <= out.high;
    return out;
}

} // namespace

std::optional<Foretold> foretellLast(const Problem& problem, const Estimated& found, const LearnOptions& options) {
    EstimateOptions how;
    how.start = found.x;
    how.without = problem.day.pieces.size() - 1;
    how.weights = &found.weights;
    how.work = options.work;
    const Estimated without = estimate(problem, how);
    if (without.stopped) return std::nullopt;
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
