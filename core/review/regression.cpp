#include "core/review/regression.h"

#include "core/review/rows.h"

#include <Eigen/QR>

namespace rw::review {

namespace {

constexpr double hopelessCondition = 1e13;       // beyond it double precision leaves no digit
constexpr double huberK = 1.345;                 // 95 % efficiency for normal errors
constexpr double normalMad = 0.6744897501960817; // median |z| of a normal variable

} // namespace

Regression leastSquares(const Eigen::MatrixXd& columns, const Eigen::VectorXd& observed,
                        const Eigen::VectorXd& weights) {
    Regression result;
    const Eigen::Index n = columns.rows(), p = columns.cols();
    if (n <= p) return result;
    Eigen::MatrixXd scaled = columns;
    Eigen::VectorXd target = observed;
    if (weights.size() > 0) {
        const Eigen::VectorXd roots = weights.cwiseSqrt();
        scaled.array().colwise() *= roots.array();
        target.array() *= roots.array();
    }
    const Eigen::VectorXd lengths = scaled.colwise().norm();
    if ((lengths.array() <= 0.0).any() || !lengths.allFinite()) return result;
    scaled.array().rowwise() /= lengths.transpose().array();
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
    const Eigen::MatrixXd r = qr.matrixR().topRows(p).triangularView<Eigen::Upper>();
    result.condition = std::abs(r(0, 0)) / std::abs(r(p - 1, p - 1));
    if (!(result.condition < hopelessCondition)) return result;
    const Eigen::VectorXd solved = qr.solve(target);
    const double rss = (target - scaled * solved).squaredNorm();
    result.residualDeviation = std::sqrt(rss / static_cast<double>(n - p));
    result.rSquared = 1.0 - rss / (target.array() - target.mean()).matrix().squaredNorm();
    // (RᵀR)⁻¹ row by row: the squared length of R⁻¹'s rows, permuted back.
    const Eigen::MatrixXd inverse = r.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(p, p));
    const Eigen::VectorXd spread = qr.colsPermutation() * inverse.rowwise().norm().eval();
    result.coefficients = solved.cwiseQuotient(lengths);
    result.standardErrors = result.residualDeviation * spread.cwiseQuotient(lengths);
    result.determined = true;
    return result;
}

Regression robustRegression(const Eigen::MatrixXd& columns, const Eigen::VectorXd& observed) {
    Regression fit = leastSquares(columns, observed);
    Eigen::VectorXd weights(observed.size());
    constexpr int mostRounds = 30;
    for (int round = 0; round < mostRounds && fit.determined; ++round) {
        const Eigen::VectorXd residuals = observed - columns * fit.coefficients;
        std::vector<double> sizes(static_cast<std::size_t>(residuals.size()));
        for (Eigen::Index i = 0; i < residuals.size(); ++i)
            sizes[static_cast<std::size_t>(i)] = std::abs(residuals[i]);
        const double scale = medianOf(sizes) / normalMad;
        if (scale <= 1e-12 * observed.cwiseAbs().maxCoeff()) break; // exact but for rounding
        for (Eigen::Index i = 0; i < residuals.size(); ++i)
            weights[i] = std::min(1.0, huberK * scale / std::max(std::abs(residuals[i]), 1e-300));
        const Regression next = leastSquares(columns, observed, weights);
        if (!next.determined) return next;
        const double moved = (next.coefficients - fit.coefficients).cwiseAbs().maxCoeff();
        const double size = next.coefficients.cwiseAbs().maxCoeff();
        fit = next;
        if (moved <= 1e-10 * size) break;
    }
    return fit;
}

} // namespace rw::review
