#include "core/learn/fit.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
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

Eigen::MatrixXd covarianceOf(const Eigen::MatrixXd& jacobian) {
    const Eigen::Index n = jacobian.cols();
    Eigen::VectorXd scale = jacobian.colwise().norm();
    for (Eigen::Index j = 0; j < n; ++j)
        if (!(scale[j] > 0.0)) scale[j] = 1.0;
    const Eigen::MatrixXd scaled = jacobian * scale.cwiseInverse().asDiagonal();
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
    const Eigen::Index rank = qr.rank();
    Eigen::MatrixXd out = Eigen::MatrixXd::Zero(n, n);
    if (rank < n) {
        for (Eigen::Index j = rank; j < n; ++j) {
            const Eigen::Index column = qr.colsPermutation().indices()[j];
            out(column, column) = std::numeric_limits<double>::infinity();
        }
        return out;
    }
    const Eigen::MatrixXd r = qr.matrixR().topLeftCorner(n, n).triangularView<Eigen::Upper>();
    const Eigen::MatrixXd inverse = r.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
    const Eigen::MatrixXd permuted =
        qr.colsPermutation() * (inverse * inverse.transpose()) * qr.colsPermutation().transpose();
    return scale.cwiseInverse().asDiagonal() * permuted * scale.cwiseInverse().asDiagonal();
}

} // namespace rw::learning
