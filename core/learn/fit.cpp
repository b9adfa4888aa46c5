#include "core/learn/fit.h"

#include <Eigen/Cholesky>
#include <ceres/ceres.h>

#include <cmath>
#include <limits>

namespace rw::learning {

namespace {

class Cost final : public ceres::CostFunction {
public:
    Cost(const Residuals& evaluate, int residuals, int unknowns)
        : evaluate_(evaluate) {
        set_num_residuals(residuals);
        mutable_parameter_block_sizes()->push_back(unknowns);
    }
    bool Evaluate(double const* const* x, double* residuals, double** jacobians) const override {
        return evaluate_(x[0], residuals, jacobians == nullptr ? nullptr : jacobians[0]);
    }

private:
    const Residuals& evaluate_;
};

class StopCallback final : public ceres::IterationCallback {
public:
    explicit StopCallback(const std::stop_token& stop)
        : stop_(stop) {}
    ceres::CallbackReturnType operator()(const ceres::IterationSummary&) override {
        return stop_.stop_requested() ? ceres::SOLVER_ABORT : ceres::SOLVER_CONTINUE;
    }

private:
    const std::stop_token& stop_;
};

Solution minimiseFrom(const LeastSquares& problem, double firstRadius) {
    Solution out;
    out.x = problem.start;
    ceres::Problem ceresProblem;
    ceresProblem.AddResidualBlock(
        new Cost(problem.evaluate, static_cast<int>(problem.residuals), static_cast<int>(out.x.size())), nullptr,
        out.x.data());
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    if (problem.residuals > 2000) options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
    options.initial_trust_region_radius = firstRadius;
    options.max_num_iterations = problem.mostIterations;
    options.function_tolerance = problem.tolerance;
    options.parameter_tolerance = problem.tolerance;
    options.gradient_tolerance = 0.01 * problem.tolerance;
    options.num_threads = 1; // the residuals share the work among threads themselves
    options.logging_type = ceres::SILENT;
    StopCallback stop(problem.stop);
    options.callbacks.push_back(&stop);
    ceres::Solver::Summary summary;
    ceres::Solve(options, &ceresProblem, &summary);
    out.cost = summary.final_cost;
    out.iterations = static_cast<int>(summary.iterations.size());
    out.converged = summary.termination_type == ceres::CONVERGENCE;
    out.message = summary.message;
    return out;
}

} // namespace

Solution minimise(const LeastSquares& problem) {
    constexpr double shorter = 1e-2; // of the trust region's radius
    Solution best = minimiseFrom(problem, problem.firstRadius);
    double radius = problem.firstRadius;
    for (int attempt = 1; attempt < problem.attempts && !problem.stop.stop_requested(); ++attempt) {
        radius *= shorter;
        Solution other = minimiseFrom(problem, radius);
        if (other.cost < best.cost) best = std::move(other);
    }
    return best;
}

Eigen::MatrixXd covarianceOf(const Eigen::MatrixXd& square) {
    const Eigen::Index n = square.cols();
    constexpr double infinite = std::numeric_limits<double>::infinity();
    const Eigen::VectorXd diagonal = square.diagonal();
    const Eigen::VectorXd scale = (diagonal.array() > 0.0).select(diagonal.cwiseSqrt().cwiseInverse(), 1.0);
    Eigen::MatrixXd unit = scale.asDiagonal() * square * scale.asDiagonal();
    for (Eigen::Index j = 0; j < n; ++j)
        if (!(diagonal[j] > 0.0)) unit(j, j) = 1.0;
    const Eigen::LLT<Eigen::MatrixXd> factor(unit);
    if (factor.info() != Eigen::Success) return Eigen::VectorXd::Constant(n, infinite).asDiagonal();
    Eigen::MatrixXd out = scale.asDiagonal() * factor.solve(Eigen::MatrixXd::Identity(n, n)) * scale.asDiagonal();
    for (Eigen::Index j = 0; j < n; ++j)
        if (!(diagonal[j] > 0.0)) out(j, j) = infinite;
    return out;
}

} // namespace rw::learning
