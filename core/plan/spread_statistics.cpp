#include "core/plan/spread_statistics.h"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace rw {

namespace {

// Between the two values of that rank. Sorts no more than that: three ranks of many values are wanted.
double percentile(std::vector<double>& values, double share) {
    const double position = share * static_cast<double>(values.size() - 1);
    const double rank = std::floor(position);
    const auto lower = values.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(values.begin(), lower, values.end());
    const double above = lower + 1 == values.end() ? *lower : *std::min_element(lower + 1, values.end());
    return *lower + (position - rank) * (above - *lower);
}

// Mean 0 and length 1; all zero where nothing varies.
Eigen::VectorXd standardised(Eigen::VectorXd column) {
    const double scale = column.cwiseAbs().maxCoeff();
    column.array() -= column.mean();
    const double length = column.norm();
    if (length <= 1e-12 * scale * std::sqrt(static_cast<double>(column.size())))
        return Eigen::VectorXd::Zero(column.size());
    return column / length;
}

std::vector<Eigen::Index> rowsWith(const std::vector<double>& y) {
    std::vector<Eigen::Index> rows;
    for (std::size_t i = 0; i < y.size(); ++i)
        if (std::isfinite(y[i])) rows.push_back(static_cast<Eigen::Index>(i));
    return rows;
}

Eigen::VectorXd pickedRows(const std::vector<double>& column, const std::vector<Eigen::Index>& rows) {
    const Eigen::Map<const Eigen::VectorXd> all(column.data(), static_cast<Eigen::Index>(column.size()));
    return standardised(all(rows));
}

} // namespace

Summary summarise(std::vector<double> values) {
    std::erase_if(values, [](double value) { return !std::isfinite(value); });
    Summary out;
    out.count = values.size();
    if (values.empty()) return out;
    const auto n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    out.mean = mean;
    if (values.size() > 1) {
        double squares = 0.0;
        for (const double value : values)
            squares += (value - mean) * (value - mean);
        out.sd = std::sqrt(squares / (n - 1.0));
    }
    out.p05 = percentile(values, 0.05);
    out.p50 = percentile(values, 0.50);
    out.p95 = percentile(values, 0.95);
    return out;
}

std::vector<std::optional<double>> firstOrderShares(const std::vector<std::vector<double>>& inputs,
                                                    const std::vector<double>& y) {
    const std::vector<Eigen::Index> rows = rowsWith(y);
    std::vector<std::optional<double>> shares(inputs.size());
    if (rows.size() < 3) return shares;
    const Eigen::VectorXd target = pickedRows(y, rows);
    for (std::size_t k = 0; k < inputs.size(); ++k) {
        const double correlation = pickedRows(inputs[k], rows).dot(target);
        shares[k] = correlation * correlation;
    }
    return shares;
}

std::vector<std::optional<double>> varianceShares(const std::vector<std::vector<double>>& inputs,
                                                  const std::vector<double>& y) {
    const std::vector<Eigen::Index> rows = rowsWith(y);
    std::vector<std::optional<double>> shares(inputs.size());
    if (inputs.empty() || rows.size() < inputs.size() + 2) return shares;

    Eigen::MatrixXd x(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(inputs.size()));
    for (std::size_t k = 0; k < inputs.size(); ++k)
        x.col(static_cast<Eigen::Index>(k)) = pickedRows(inputs[k], rows);
    const Eigen::VectorXd target = pickedRows(y, rows);
    const Eigen::VectorXd correlation = x.transpose() * target;
    const Eigen::VectorXd beta = (x.transpose() * x).completeOrthogonalDecomposition().solve(correlation);
    const double explained = std::clamp(correlation.dot(beta), 0.0, 1.0);
    const double all = beta.squaredNorm();
    for (std::size_t k = 0; k < inputs.size(); ++k) {
        const double b = beta[static_cast<Eigen::Index>(k)];
        shares[k] = all > 0.0 ? explained * b * b / all : 0.0;
    }
    return shares;
}

} // namespace rw
