#include "core/learn/estimate.h"

#include "core/learn/fit.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace rw::learning {

namespace {

// Residuals in the unknowns counted in prior deviations from the prior's mean: readings, then the prior.
class Sum {
public:
    Sum(const Problem& problem, const Predictor& predictor, const std::vector<double>& measured)
        : problem_(problem)
        , predictor_(predictor)
        , measured_(measured) {}

    std::vector<double> weights;
    [[nodiscard]] std::vector<double> valuesOf(const double* z) const {
        std::vector<double> x(problem_.unknowns.size());
        for (std::size_t j = 0; j < x.size(); ++j)
            x[j] = problem_.unknowns[j].valueAt(z[j]);
        return x;
    }
    // The last one with derivatives is kept: rounds of weighing begin where the one before has ended.
    const Prediction& at(const std::vector<double>& x, bool derivatives) const {
        if (x == keptAt_) return kept_;
        if (!derivatives) return passing_ = predictor_.predict(x, Predictor::Derivatives::None);
        keptAt_ = x;
        return kept_ = predictor_.predict(x, Predictor::Derivatives::Forward);
    }
    void keep(const std::vector<double>& x, const Prediction& prediction) { keptAt_ = x, kept_ = prediction; }
    [[nodiscard]] std::size_t size() const { return measured_.size() + problem_.unknowns.size(); }

    bool evaluate(const double* z, double* residuals, double* jacobian) const {
        const std::vector<double> x = valuesOf(z);
        const Prediction& prediction = at(x, jacobian != nullptr);
        const auto rows = static_cast<Eigen::Index>(measured_.size());
        const auto n = static_cast<Eigen::Index>(x.size());
        for (std::size_t i = 0; i < measured_.size(); ++i)
            residuals[i] = weights[i] * (prediction.values[i] - measured_[i]);
        Eigen::Map<Eigen::VectorXd>(residuals + rows, n) = whitened(Eigen::Map<const Eigen::VectorXd>(z, n));
        if (jacobian == nullptr) return true;
        using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
        Eigen::Map<RowMajor> j(jacobian, rows + n, n);
        j.topRows(rows) = weighted(prediction.jacobian, slopesOf(z));
        j.bottomRows(n) = priorRows();
        return true;
    }

    [[nodiscard]] Eigen::VectorXd slopesOf(const double* z) const {
        Eigen::VectorXd out(static_cast<Eigen::Index>(problem_.unknowns.size()));
        for (Eigen::Index j = 0; j < out.size(); ++j)
            out[j] = problem_.unknowns[static_cast<std::size_t>(j)].slopeAt(z[j]);
        return out;
    }
    [[nodiscard]] Eigen::MatrixXd weighted(const Eigen::MatrixXd& jacobian, const Eigen::VectorXd& slopes) const {
        const Eigen::Map<const Eigen::VectorXd> w(weights.data(), jacobian.rows());
        return w.asDiagonal() * jacobian * slopes.asDiagonal();
    }
    [[nodiscard]] Eigen::MatrixXd priorRows() const {
        const auto n = static_cast<Eigen::Index>(problem_.unknowns.size());
        const auto c = static_cast<Eigen::Index>(problem_.carried);
        Eigen::MatrixXd out = Eigen::MatrixXd::Identity(n, n);
        out.topLeftCorner(c, c) =
            problem_.priorFactor.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(c, c));
        return out;
    }

private:
    [[nodiscard]] Eigen::VectorXd whitened(const Eigen::VectorXd& z) const {
        Eigen::VectorXd out = z;
        const auto c = static_cast<Eigen::Index>(problem_.carried);
        out.head(c) = problem_.priorFactor.triangularView<Eigen::Lower>().solve(z.head(c));
        return out;
    }

    const Problem& problem_;
    const Predictor& predictor_;
    const std::vector<double>& measured_;
    mutable std::vector<double> keptAt_;
    mutable Prediction kept_, passing_;
};

void dropPiece(const Problem& problem, std::optional<std::size_t> without, std::vector<double>& weights) {
    if (!without) return;
    std::size_t i = 0;
    for (std::size_t p = 0; p < problem.day.pieces.size(); ++p)
        for (std::size_t k = 0; k < problem.day.pieces[p].readings.size(); ++k, ++i)
            if (p == *without) weights[i] = 0.0;
}

} // namespace

std::vector<double> measuredOf(const Day& day) {
    std::vector<double> out;
    for (const Piece& piece : day.pieces)
        for (const Reading& reading : piece.readings)
            out.push_back(reading.value);
    return out;
}

Estimated estimate(const Problem& problem, const EstimateOptions& options) {
    const std::vector<double> measured = measuredOf(problem.day);
    const Predictor predictor(problem.day, problem.unknowns, options.work);
    Sum sum(problem, predictor, measured);
    Estimated out;
    const std::size_t n = problem.unknowns.size();
    LeastSquares least;
    least.residuals = sum.size();
    least.evaluate = [&sum](const double* z, double* r, double* j) { return sum.evaluate(z, r, j); };
    least.stop = options.work.stop;
    least.start = options.start.empty() ? std::vector<double>(n, 0.0) : options.start;
    if (options.at != nullptr && !options.start.empty()) sum.keep(sum.valuesOf(options.start.data()), *options.at);
    out.groups = groupsOf(problem.day, sum.at(sum.valuesOf(least.start.data()), false).steep);
    sum.weights = options.weights != nullptr ? *options.weights : firstWeights(problem.day, out.groups);
    dropPiece(problem, options.without, sum.weights);
    Solution solution;
    const int rounds = options.weights != nullptr ? 1 : options.rounds;
    for (int round = 0; round < rounds; ++round) {
        const bool last = round + 1 == rounds;
        least.mostIterations = round == 0 ? 12 : round == 2 ? 6 : 40;
        least.tolerance = last ? 3e-6 : 1e-3; // of a cost that counts noises: far below one standard error
        solution = minimise(least);
        least.start = solution.x;
        if (options.work.progress) options.work.progress(static_cast<double>(round + 1) / (rounds + 1));
        if (options.work.stop.stop_requested()) {
            out.stopped = true;
            return out;
        }
        if (last) break;
        const Prediction& now = sum.at(sum.valuesOf(solution.x.data()), false);
        out.groups = groupsOf(problem.day, now.steep);
        std::vector<double> residuals(measured.size());
        for (std::size_t i = 0; i < measured.size(); ++i)
            residuals[i] = measured[i] - now.values[i];
        sum.weights = weights(problem.day, out.groups, residuals, round == 0);
        dropPiece(problem, options.without, sum.weights);
    }
    out.z = solution.x;
    out.x = sum.valuesOf(out.z.data());
    out.cost = solution.cost;
    out.converged = solution.converged;
    out.message = solution.message;
    out.weights = sum.weights;
    out.prediction = sum.at(out.x, true);
    const Eigen::VectorXd slopes = sum.slopesOf(out.z.data());
    out.data = sum.weighted(out.prediction.jacobian, slopes);
    const Eigen::MatrixXd prior = sum.priorRows();
    const Eigen::MatrixXd information = out.data.transpose() * out.data + prior.transpose() * prior;
    const auto size = static_cast<Eigen::Index>(n);
    const Eigen::MatrixXd scaled = information.llt().solve(Eigen::MatrixXd::Identity(size, size));
    out.covariance = slopes.asDiagonal() * scaled * slopes.asDiagonal();
    return out;
}

} // namespace rw::learning
