// The most probable unknowns of a day, their covariance and what is left over. Internal to core/learn.
#pragma once

#include "core/learn/noise.h"
#include "core/learn/predict.h"
#include "core/learn/scale.h"

#include <Eigen/Core>

namespace rw::learning {

struct Problem {
    Day day;
    std::vector<UnknownItem> unknowns; // the carried ones first
    std::size_t carried = 0;
    std::vector<ChargeTie> ties;
    Eigen::MatrixXd priorFactor; // L of the carried keys' prior correlation
    std::vector<std::string> ignored;
};

[[nodiscard]] Problem problemOf(std::span<const LearnLog> logs, const LearnOptions& options);

// Elsewhere, and as good.
struct OtherSolution {
    std::vector<double> x;
    std::vector<std::size_t> differs; // keys whose values are more than three standard errors apart
    double odds = 0.0;                // its share, of it and the one that is told
};

struct Estimated {
    std::vector<double> x, z;          // values; the same on the scale that is estimated on
    std::vector<OtherSolution> others; // the covariance holds them
    Eigen::MatrixXd covariance;        // of x
    Eigen::VectorXd told; // prior deviations over what the readings alone would leave, if nothing else were unknown
    Prediction prediction;
    std::vector<double> weights; // one a reading
    std::vector<Group> groups;
    double cost = 0.0;
    bool converged = false;
    std::string message;
};

// Rounds of fitting and weighing, from the priors' means or from `start` (on Estimated::z's scale).
struct EstimateOptions {
    std::vector<double> start;
    const Prediction* at = nullptr;     // there, with derivatives, if known
    std::optional<std::size_t> without; // the piece from which on nothing is used
    WorkOptions work;
};
[[nodiscard]] Estimated estimate(const Problem& problem, const EstimateOptions& options);

// Revolutions a volt at full output over the plan's speed constant: a little below 1 under load, more than so much is
// another motor's; 0 if it is not logged.
inline constexpr double mostOfSpeedConstant = 1.02;
[[nodiscard]] double shareOfSpeedConstant(const Problem& problem);

// Measured, one a reading.
[[nodiscard]] std::vector<double> measuredOf(const Day& day);

} // namespace rw::learning
