// Nonlinear least squares: Ceres' trust-region method. Checked on NIST's StRD sets (tests/published).
#pragma once

#include <Eigen/Core>

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

namespace rw::learning {

// Residuals and their derivatives at x, row after row (residuals × unknowns); `jacobian` is null where not asked for.
// False where the model cannot be computed there.
using Residuals = std::function<bool(const double* x, double* residuals, double* jacobian)>;

struct LeastSquares {
    std::size_t residuals = 0;
    std::vector<double> start;
    Residuals evaluate;
    int mostIterations = 50;
    // Of the trust region. Large from near the end on: where unknowns act almost alike, what damps each of them by its
    // own slope leaves no step along their valley.
    double firstRadius = 1e4;
    int attempts = 1;         // from the same start with ever shorter first steps; the best is kept
    double tolerance = 1e-10; // of the cost and the unknowns
    std::stop_token stop;
};

struct Solution {
    std::vector<double> x;
    double cost = 0.0; // half the sum of squares
    int iterations = 0;
    bool converged = false; // no descent left; else out of iterations, or not computable
    std::string message;
};

[[nodiscard]] Solution minimise(const LeastSquares& problem);

// The inverse of JᵀJ, each unknown scaled to its own slope. What nothing depends on gets an infinite variance; all do
// where unknowns cannot be told apart at all.
[[nodiscard]] Eigen::MatrixXd covarianceOf(const Eigen::MatrixXd& square);

} // namespace rw::learning
