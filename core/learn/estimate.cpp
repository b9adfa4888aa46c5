#include "core/learn/estimate.h"

#include "core/learn/fit.h"
#include "core/learn/posterior.h"
#include "core/stopped.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::learning {

namespace {

// Residuals in the unknowns counted in prior deviations from the prior's mean: readings, then the prior.
class Sum {
public:
    // Pieces from `end` on are not told derivatives of.
    Sum(const Problem& problem, const Predictor& predictor, const std::vector<double>& measured, std::size_t end)
        : problem_(problem)
        , predictor_(predictor)
        , measured_(measured)
        , end_(end) {
        stiffness.setOnes(static_cast<Eigen::Index>(problem.unknowns.size()));
    }

    std::vector<double> weights;
    Eigen::VectorXd stiffness; // of each unknown's prior: 1, less where passes scatter (easePasses)
    [[nodiscard]] std::vector<double> valuesOf(const double* z) const { return scale().valuesAt(z); }
    [[nodiscard]] Scale scale() const { return {problem_.unknowns, problem_.ties}; }
    // The last one with derivatives is kept: rounds of weighing begin where the one before has ended.
    const Prediction& at(const std::vector<double>& x, bool derivatives) const {
        if (x == keptAt_) return kept_;
        if (!derivatives) return passing_ = predictor_.predict(x, Predictor::Derivatives::None);
        keptAt_ = x;
        kept_ = {}; // of a season it is large: not two at a time
        return kept_ = predictor_.predict(x, Predictor::Derivatives::Forward, end_);
    }
    void keep(const std::vector<double>& x, const Prediction& prediction) { keptAt_ = x, kept_ = prediction; }
    // With derivatives of all pieces. Nothing is kept after.
    Prediction taken(const std::vector<double>& x) {
        const bool whole = end_ >= problem_.day.pieces.size();
        if (whole) static_cast<void>(at(x, true));
        Prediction out = whole ? std::move(kept_) : Prediction{};
        kept_ = {};
        keptAt_.clear();
        return whole ? std::move(out) : predictor_.predict(x, Predictor::Derivatives::Forward);
    }
    // As few residuals as say the same: with JᵀJ = L Lᵀ the rows of Lᵀ, L⁻¹ Jᵀ r, and what no unknown can take up.
    [[nodiscard]] std::size_t size() const { return problem_.unknowns.size() + 1; }
    bool evaluate(const double* z, double* residuals, double* jacobian) const {
        const std::vector<double> x = valuesOf(z);
        const auto n = static_cast<Eigen::Index>(x.size());
        const Prediction& prediction = at(x, jacobian != nullptr);
        const Eigen::VectorXd prior = whitened(Eigen::Map<const Eigen::VectorXd>(z, n));
        Eigen::VectorXd left(static_cast<Eigen::Index>(measured_.size()));
        for (std::size_t i = 0; i < measured_.size(); ++i)
            left[static_cast<Eigen::Index>(i)] = weights[i] * (prediction.values[i] - measured_[i]);
        const double total = left.squaredNorm() + prior.squaredNorm();
        Eigen::Map<Eigen::VectorXd> out(residuals, n + 1);
        out.setZero();
        out[n] = std::sqrt(total);
        if (jacobian == nullptr) return std::isfinite(total);
        Eigen::VectorXd slope = priorRows().transpose() * prior;
        const Eigen::MatrixXd square =
            priorRows().transpose() * priorRows() + told(prediction, scale().slopesAt(z), &left, &slope);
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
    // Sum of squares, the prior's included.
    [[nodiscard]] double costAt(const std::vector<double>& z) const {
        const std::vector<double>& values = at(valuesOf(z.data()), false).values;
        double out =
            whitened(Eigen::Map<const Eigen::VectorXd>(z.data(), static_cast<Eigen::Index>(z.size()))).squaredNorm();
        for (std::size_t i = 0; i < measured_.size(); ++i)
            out += std::pow(weights[i] * (values[i] - measured_[i]), 2);
        return out;
    }
    // Errors and what they hang on, from the curvature at the solution; moves the values to the posterior's middle
    // where a charge's end cuts it off.
    void fillPosterior(const std::vector<double>& measured, Estimated& out) const;
    // JᵀJ of the readings, in the unknowns that are estimated on; adds Jᵀ left to `slope`.
    [[nodiscard]] Eigen::MatrixXd told(const Prediction& prediction, const Scale::Slopes& slopes,
                                       const Eigen::VectorXd* left, Eigen::VectorXd* slope) const {
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
            if (left != nullptr) (*slope)(moving) += block.transpose() * left->segment(first, rows);
            first += rows;
        }
        return out;
    }

    [[nodiscard]] Eigen::MatrixXd priorRows() const {
        const auto c = static_cast<Eigen::Index>(problem_.carried);
        Eigen::MatrixXd out = stiffness.asDiagonal();
        out.topLeftCorner(c, c) =
            problem_.priorFactor.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(c, c));
        return out;
    }

private:
    [[nodiscard]] Eigen::VectorXd whitened(const Eigen::VectorXd& z) const {
        Eigen::VectorXd out = stiffness.cwiseProduct(z);
        const auto c = static_cast<Eigen::Index>(problem_.carried);
        out.head(c) = problem_.priorFactor.triangularView<Eigen::Lower>().solve(z.head(c));
        return out;
    }

    const Problem& problem_;
    const Predictor& predictor_;
    const std::vector<double>& measured_;
    std::size_t end_;
    mutable std::vector<double> keptAt_;
    mutable Prediction kept_, passing_;
};

void Sum::fillPosterior(const std::vector<double>& measured, Estimated& out) const {
    const Scale::Slopes slopes = scale().slopesAt(out.z.data(), Scale::Ends::Straight);
    Posterior posterior;
    posterior.place = scale().straight(out.x, out.z.data());
    Eigen::VectorXd left(static_cast<Eigen::Index>(measured.size()));
    for (std::size_t i = 0; i < measured.size(); ++i)
        left[static_cast<Eigen::Index>(i)] = weights[i] * (out.prediction.values[i] - measured[i]);
    posterior.slope = priorRows().transpose() * (priorRows() * posterior.place);
    const Eigen::MatrixXd readings = told(out.prediction, slopes, &left, &posterior.slope);
    out.told = readings.diagonal().cwiseSqrt();
    const Eigen::Index n = out.told.size();
    posterior.covariance =
        (readings + priorRows().transpose() * priorRows()).llt().solve(Eigen::MatrixXd::Identity(n, n));
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

// Fitting and weighing in turn.
class Rounds {
public:
    Rounds(const Problem& problem, const EstimateOptions& options, const Predictor& predictor,
           const std::vector<double>& measured)
        : problem_(problem)
        , options_(options)
        , measured_(measured)
        , sum(problem, predictor, measured, options.without.value_or(problem.day.pieces.size())) {}

    void begin(const std::vector<double>& z) {
        solution.x = z;
        groups = groupsAt(sum.at(sum.valuesOf(z.data()), false));
        sum.weights = firstWeights(problem_.day, groups);
    }
    void weigh(Weighing weighing) {
        const Prediction& now = sum.at(sum.valuesOf(solution.x.data()), false);
        groups = groupsAt(now);
        std::vector<double> residuals(measured_.size());
        for (std::size_t i = 0; i < measured_.size(); ++i)
            residuals[i] = measured_[i] - now.values[i];
        sum.weights = weights(problem_.day, groups, residuals, weighing);
        if (weighing != Weighing::Tempered) easePasses();
    }
    // Passes' own priors as wide as they scatter. A Student prior's weight for what a pass shows; for one that nothing
    // was read of, the scale that all of them show, weakly held to 1.
    void easePasses() {
        for (const Unknown kind : {Unknown::Wind, Unknown::Drag}) {
            double squares = 0.0, count = 0.0;
            for (std::size_t j = 0; j < problem_.unknowns.size(); ++j) {
                const UnknownItem& u = problem_.unknowns[j];
                if (u.kind != kind || (options_.without && u.place >= *options_.without)) continue;
                squares += solution.x[j] * solution.x[j], count += 1.0;
            }
            for (std::size_t j = 0; j < problem_.unknowns.size(); ++j) {
                const UnknownItem& u = problem_.unknowns[j];
                if (u.kind != kind) continue;
                const bool unread = options_.without && u.place >= *options_.without;
                const double variance = unread
                                            ? (prior::freedom + squares) / (prior::freedom + count)
                                            : (prior::freedom + solution.x[j] * solution.x[j]) / (prior::freedom + 1.0);
                sum.stiffness[static_cast<Eigen::Index>(j)] = 1.0 / std::sqrt(std::max(1.0, variance));
            }
        }
    }
    // Whole: to its end. `done`: progress then.
    void fit(bool whole, double done) {
        throwIfStopped(options_.work.stop);
        LeastSquares least;
        least.residuals = sum.size();
        least.evaluate = [this](const double* z, double* r, double* j) { return sum.evaluate(z, r, j); };
        least.stop = options_.work.stop;
        least.start = solution.x;
        least.mostIterations = whole ? 40 : 12;
        least.tolerance = whole ? 1e-5 : 1e-3; // of a cost that counts noises: far below one standard error
        if (whole) least.firstRadius = 1e12;
        solution = minimise(least);
        if (options_.work.progress) options_.work.progress(done);
    }
    // To where every reading counts in full: from far off, and from nearby.
    void approach(const std::vector<double>& z) {
        begin(z);
        fit(false, 0.2);
        weigh(Weighing::Tempered);
        fit(false, 0.35);
        weigh(Weighing::White);
        fit(true, 0.6);
    }
    void settle(const std::vector<double>& z) {
        solution.x = z;
        weigh(Weighing::White);
        fit(true, 0.6);
    }
    // Of where it stands, every reading counting in full with the noise that neighbours show: the same measure for
    // every solution. And its share of a reading.
    [[nodiscard]] double whiteCost() {
        weigh(Weighing::White);
        return sum.costAt(solution.x);
    }
    [[nodiscard]] double misfit() {
        const double cost = whiteCost();
        const auto count = std::count_if(sum.weights.begin(), sum.weights.end(), [](double w) { return w > 0.0; });
        return cost / std::max<double>(1.0, static_cast<double>(count));
    }
    // Prior deviations that the farthest unknown has gone; not those that passes may scatter in.
    [[nodiscard]] double farthest() const {
        double out = 0.0;
        for (std::size_t j = 0; j < solution.x.size(); ++j) {
            const Unknown kind = problem_.unknowns[j].kind;
            if (kind != Unknown::Wind && kind != Unknown::Drag) out = std::max(out, std::abs(solution.x[j]));
        }
        return out;
    }
    [[nodiscard]] Estimated result();

private:
    // Without those of the piece that is not to be used.
    [[nodiscard]] std::vector<Group> groupsAt(const Prediction& prediction) const {
        std::vector<std::uint8_t> hidden = prediction.steep;
        std::size_t i = 0;
        for (std::size_t p = 0; p < problem_.day.pieces.size(); ++p)
            for (std::size_t k = 0; k < problem_.day.pieces[p].readings.size(); ++k, ++i)
                if (options_.without && p >= *options_.without) hidden[i] = 1;
        return groupsOf(problem_.day, hidden);
    }

    const Problem& problem_;
    const EstimateOptions& options_;
    const std::vector<double>& measured_;

public:
    Sum sum;
    Solution solution;
    std::vector<Group> groups;
};

Estimated Rounds::result() {
    Estimated out;
    out.z = solution.x;
    out.x = sum.valuesOf(out.z.data());
    out.cost = solution.cost;
    out.converged = solution.converged;
    out.message = solution.message;
    out.groups = groups;
    out.weights = sum.weights;
    out.prediction = sum.taken(out.x);
    sum.fillPosterior(measured_, out);
    return out;
}

// Where the cost folds: what decides when the tyre is at its edge, the first of these that is unknown, from the edges
// of its prior.
std::vector<std::vector<double>> otherStarts(const Problem& problem) {
    std::vector<std::vector<double>> out;
    for (const char* key : {"venue.friction", "vehicle.lift_area_front_m2", "vehicle.lift_area_rear_m2"}) {
        if (!out.empty()) break;
        for (const double edge : {-2.0, 2.0}) {
            std::vector<double> z(problem.unknowns.size(), 0.0);
            bool any = false;
            for (std::size_t j = 0; j < z.size(); ++j)
                if (problem.unknowns[j].field != nullptr && problem.unknowns[j].field->key() == key)
                    z[j] = edge, any = true;
            if (any) out.push_back(std::move(z));
        }
    }
    return out;
}

// Where too much is left, or something has gone far from what was known of it: from the middle of the priors without a
// first look from afar, and from the fold's edges. The best is kept.
void tryOthers(const Problem& problem, const EstimateOptions& options, const Predictor& predictor,
               const std::vector<double>& measured, Rounds& best) {
    constexpr double tooMuch = 2.5, tooFar = 4.0; // noises squared, prior deviations
    constexpr double hopeless = 50.0;             // noises squared: no fold leaves so much, but another vehicle's log
    const double left = best.misfit();
    if (left > hopeless || (left < tooMuch && best.farthest() < tooFar)) return;
    std::vector<std::vector<double>> starts = {std::vector<double>(problem.unknowns.size(), 0.0)};
    if (left >= tooMuch)
        for (std::vector<double>& z : otherStarts(problem))
            starts.push_back(std::move(z));
    for (std::size_t s = 0; s < starts.size(); ++s) {
        Rounds other(problem, options, predictor, measured);
        if (s == 0)
            other.settle(starts[s]);
        else
            other.approach(starts[s]);
        other.settle(other.solution.x);
        if (other.whiteCost() < best.whiteCost()) best.settle(other.solution.x);
    }
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
    Rounds rounds(problem, options, predictor, measured);
    if (options.start.empty()) {
        rounds.approach(std::vector<double>(problem.unknowns.size(), 0.0));
    } else {
        if (options.at != nullptr) rounds.sum.keep(rounds.sum.valuesOf(options.start.data()), *options.at);
        rounds.settle(options.start);
    }
    if (options.start.empty()) tryOthers(problem, options, predictor, measured, rounds);
    for (const bool whole : {false, true}) {
        rounds.weigh(Weighing::Effective);
        rounds.fit(whole, whole ? 0.9 : 0.75);
    }
    throwIfStopped(options.work.stop);
    return rounds.result();
}

} // namespace rw::learning
