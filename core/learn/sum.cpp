#include "core/learn/sum.h"

#include "core/learn/fit.h"
#include "core/learn/posterior.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace rw::learning {

Sum::Sum(const Problem& problem, const Predictor& predictor, const std::vector<double>& measured, std::size_t end)
    : problem_(problem)
    , predictor_(predictor)
    , measured_(measured)
    , end_(end) {
    stiffness.setOnes(static_cast<Eigen::Index>(problem.unknowns.size()));
}

const Prediction& Sum::at(const std::vector<double>& x, bool derivatives) const {
    if (x == keptAt_) return kept_;
    if (!derivatives) return passing_ = predictor_.predict(x, Predictor::Derivatives::None);
    keptAt_ = x;
    kept_ = {}; // of a season it is large: not two at a time
    return kept_ = predictor_.predict(x, Predictor::Derivatives::Forward, end_);
}

Prediction Sum::taken(const std::vector<double>& x) {
    const bool whole = end_ >= problem_.day.pieces.size();
    if (whole) static_cast<void>(at(x, true));
    Prediction out = whole ? std::move(kept_) : Prediction{};
    kept_ = {};
    keptAt_.clear();
    return whole ? std::move(out) : predictor_.predict(x, Predictor::Derivatives::Forward);
}

Eigen::VectorXd Sum::leftOf(const std::vector<double>& values) const {
    Eigen::VectorXd left(static_cast<Eigen::Index>(measured_.size()));
    for (std::size_t i = 0; i < measured_.size(); ++i)
        left[static_cast<Eigen::Index>(i)] = weights[i] * (values[i] - measured_[i]);
    return left;
}

bool Sum::evaluate(const double* z, double* residuals, double* jacobian) const {
    const std::vector<double> x = valuesOf(z);
    const auto n = static_cast<Eigen::Index>(x.size());
    const Prediction& prediction = at(x, jacobian != nullptr);
    const Eigen::VectorXd prior = whitened(Eigen::Map<const Eigen::VectorXd>(z, n));
    const Eigen::VectorXd left = leftOf(prediction.values);
    const double total = left.squaredNorm() + prior.squaredNorm();
    Eigen::Map<Eigen::VectorXd> out(residuals, n + 1);
    out.setZero();
    out[n] = std::sqrt(total);
    if (jacobian == nullptr) return std::isfinite(total);
    Eigen::VectorXd slope = priorRows().transpose() * prior;
    const Eigen::MatrixXd square =
        priorRows().transpose() * priorRows() + told(prediction, scale().slopesAt(z), left, slope);
    const Eigen::LLT<Eigen::MatrixXd> factor(square);
    if (factor.info() != Eigen::Success) return false;
    out.head(n) = factor.matrixL().solve(slope);
    out[n] = std::sqrt(std::max(0.0, total - out.head(n).squaredNorm()));
    using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    Eigen::Map<RowMajor> j(jacobian, n + 1, n);
    j.topRows(n) = factor.matrixU();
    j.row(n).setZero();
    return true;
}

double Sum::costAt(const std::vector<double>& z) const {
    const auto n = static_cast<Eigen::Index>(z.size());
    return leftOf(at(valuesOf(z.data()), false).values).squaredNorm() +
           whitened(Eigen::Map<const Eigen::VectorXd>(z.data(), n)).squaredNorm();
}

Eigen::MatrixXd Sum::told(const Prediction& prediction, const Scale::Slopes& slopes, const Eigen::VectorXd& left,
                          Eigen::VectorXd& slope) const {
    const Eigen::Index n = slopes.own.size();
    Eigen::MatrixXd out = Eigen::MatrixXd::Zero(n, n);
    Eigen::Index first = 0;
    for (const Piece& piece : problem_.day.pieces) {
        const auto rows = static_cast<Eigen::Index>(piece.readings.size());
        const auto here = prediction.jacobian.middleRows(first, rows);
        std::vector<Eigen::Index> moving; // most unknowns belong to other passes
        for (Eigen::Index j = 0; j < n; ++j) {
            bool any = !here.col(j).isZero(0.0);
            for (const Scale::Tied& tie : slopes.ties)
                any = any || (tie.gain == j && !here.col(tie.charge).isZero(0.0));
            if (any) moving.push_back(j);
        }
        const Eigen::Map<const Eigen::VectorXd> w(weights.data() + first, rows);
        Eigen::MatrixXd block = w.asDiagonal() * here(Eigen::all, moving) * slopes.own(moving).asDiagonal();
        for (const Scale::Tied& tie : slopes.ties)
            if (const auto at = std::find(moving.begin(), moving.end(), tie.gain); at != moving.end())
                block.col(at - moving.begin()) += tie.slope * w.cwiseProduct(here.col(tie.charge));
        out(moving, moving) += block.transpose() * block;
        slope(moving) += block.transpose() * left.segment(first, rows);
        first += rows;
    }
    return out;
}

Eigen::MatrixXd Sum::priorRows() const {
    const auto c = static_cast<Eigen::Index>(problem_.carried);
    Eigen::MatrixXd out = stiffness.asDiagonal();
    out.topLeftCorner(c, c) =
        problem_.priorFactor.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(c, c));
    return out;
}

Eigen::VectorXd Sum::whitened(const Eigen::VectorXd& z) const {
    Eigen::VectorXd out = stiffness.cwiseProduct(z);
    const auto c = static_cast<Eigen::Index>(problem_.carried);
    out.head(c) = problem_.priorFactor.triangularView<Eigen::Lower>().solve(z.head(c));
    return out;
}

void Sum::fillPosterior(Estimated& out) const {
    const Scale::Slopes slopes = scale().slopesAt(out.z.data(), Scale::Ends::Straight);
    Posterior posterior;
    posterior.place = scale().straight(out.x, out.z.data());
    posterior.slope = priorRows().transpose() * (priorRows() * posterior.place);
    const Eigen::MatrixXd readings = told(out.prediction, slopes, leftOf(out.prediction.values), posterior.slope);
    out.told = readings.diagonal().cwiseSqrt();
    posterior.covariance = covarianceOf(readings + priorRows().transpose() * priorRows());
    const Eigen::MatrixXd matrix = slopes.matrix();
    const Eigen::VectorXd before = posterior.place;
    bool cut = false;
    for (std::size_t j = 0; j < problem_.unknowns.size(); ++j)
        if (problem_.unknowns[j].kind == Unknown::Charge)
            cut = cutOff(posterior, matrix.row(static_cast<Eigen::Index>(j)), problem_.unknowns[j].high - out.x[j]) ||
                  cut;
    out.covariance = matrix * posterior.covariance * matrix.transpose();
    if (!cut) return;
    const Eigen::VectorXd moved = matrix * (posterior.place - before);
    for (std::size_t j = 0; j < out.x.size(); ++j)
        out.x[j] = std::clamp(out.x[j] + moved[static_cast<Eigen::Index>(j)], problem_.unknowns[j].low,
                              problem_.unknowns[j].high);
    out.prediction.values = predictor_.predict(out.x, Predictor::Derivatives::None).values;
}

} // namespace rw::learning
