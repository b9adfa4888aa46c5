// Linear regression by orthogonal factors, plain and robust, with standard errors.
// Plain: Householder QR with column pivoting on columns of equal length (checked against NIST's Norris and Longley).
// Robust: Huber's loss, k = 1.345, scale from the median absolute residual, iteratively reweighted [Huber, Robust
// Statistics, ch. 7].
#pragma once

#include <Eigen/Core>

namespace rw::review {

struct Regression {
    bool determined = false; // false: too few rows, or columns that depend on one another
    Eigen::VectorXd coefficients, standardErrors;
    double residualDeviation = 0.0; // sqrt(RSS / degrees of freedom)
    double rSquared = 0.0;          // about the mean
    double condition = 0.0;         // of the scaled columns, largest over smallest diagonal of R
};

// columns: one row an observation, an intercept included by the caller. weights: one a row, or empty.
[[nodiscard]] Regression leastSquares(const Eigen::MatrixXd& columns, const Eigen::VectorXd& observed,
                                      const Eigen::VectorXd& weights = {});
[[nodiscard]] Regression robustRegression(const Eigen::MatrixXd& columns, const Eigen::VectorXd& observed);

} // namespace rw::review
