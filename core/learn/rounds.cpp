#include "core/learn/rounds.h"

#include "core/stopped.h"

#include <algorithm>
#include <cmath>

namespace rw::learning {

Rounds::Rounds(const Problem& problem, const EstimateOptions& options, const Predictor& predictor,
               const std::vector<double>& measured)
    : problem_(problem)
    , options_(options)
    , measured_(measured)
    , sum_(problem, predictor, measured, options.without.value_or(problem.day.pieces.size())) {}

void Rounds::approach(const std::vector<double>& z) {
    solution_.x = z;
    groups_ = groupsAt(sum_.at(sum_.valuesOf(z.data()), false));
    sum_.weights = firstWeights(problem_.day, groups_);
    fit(false, 0.3);
    settle(solution_.x);
}

void Rounds::settle(const std::vector<double>& z) {
    solution_.x = z;
    weigh(Weighing::White);
    fit(true, 0.6);
}

void Rounds::finish() {
    for (const bool whole : {false, true}) {
        weigh(Weighing::Effective);
        fit(whole, whole ? 0.9 : 0.75);
    }
}

void Rounds::weigh(Weighing weighing) {
    const Prediction& now = sum_.at(sum_.valuesOf(solution_.x.data()), false);
    groups_ = groupsAt(now);
    std::vector<double> residuals(measured_.size());
    for (std::size_t i = 0; i < measured_.size(); ++i)
        residuals[i] = measured_[i] - now.values[i];
    sum_.weights = weights(problem_.day, groups_, residuals, weighing);
    easePasses();
}

// Passes' own priors as wide as they scatter. A Student prior's weight for what a pass shows; for one that nothing
// was read of, the scale that all of them show, weakly held to 1.
void Rounds::easePasses() {
    for (const Unknown kind : {Unknown::Wind, Unknown::Drag}) {
        double squares = 0.0, count = 0.0;
        for (std::size_t j = 0; j < problem_.unknowns.size(); ++j) {
            const UnknownItem& u = problem_.unknowns[j];
            if (u.kind != kind || (options_.without && u.place >= *options_.without)) continue;
            squares += solution_.x[j] * solution_.x[j], count += 1.0;
        }
        for (std::size_t j = 0; j < problem_.unknowns.size(); ++j) {
            const UnknownItem& u = problem_.unknowns[j];
            if (u.kind != kind) continue;
            const bool unread = options_.without && u.place >= *options_.without;
            const double variance = unread
                                        ? (prior::freedom + squares) / (prior::freedom + count)
                                        : (prior::freedom + solution_.x[j] * solution_.x[j]) / (prior::freedom + 1.0);
            sum_.stiffness[static_cast<Eigen::Index>(j)] = 1.0 / std::sqrt(std::max(1.0, variance));
        }
    }
}

// Whole: to its end. `done`: progress then.
void Rounds::fit(bool whole, double done) {
    throwIfStopped(options_.work.stop);
    LeastSquares least;
    least.residuals = sum_.size();
    least.evaluate = [this](const double* z, double* r, double* j) { return sum_.evaluate(z, r, j); };
    least.stop = options_.work.stop;
    least.start = solution_.x;
    least.mostIterations = whole ? 40 : 12;
    least.tolerance = whole ? 1e-5 : 1e-3; // of a cost that counts noises: far below one standard error
    if (whole) least.firstRadius = 1e12;
    solution_ = minimise(least);
    if (options_.work.progress) options_.work.progress(done);
}

double Rounds::count() const {
    return static_cast<double>(
        std::count_if(sum_.weights.begin(), sum_.weights.end(), [](double w) { return w > 0.0; }));
}

double Rounds::misfit() {
    weigh(Weighing::White);
    return sum_.costAt(solution_.x) / std::max(1.0, count());
}

double Rounds::farthest() const {
    double out = 0.0;
    for (std::size_t j = 0; j < solution_.x.size(); ++j) {
        const Unknown kind = problem_.unknowns[j].kind;
        if (kind != Unknown::Wind && kind != Unknown::Drag) out = std::max(out, std::abs(solution_.x[j]));
    }
    return out;
}

double Rounds::farthestCarried() const {
    double out = 0.0;
    for (std::size_t j = 0; j < problem_.carried; ++j)
        out = std::max(out, std::abs(solution_.x[j]));
    return out;
}

// Without those of the piece that is not to be used.
std::vector<Group> Rounds::groupsAt(const Prediction& prediction) const {
    std::vector<std::uint8_t> hidden = prediction.steep;
    std::size_t i = 0;
    for (std::size_t p = 0; p < problem_.day.pieces.size(); ++p)
        for (std::size_t k = 0; k < problem_.day.pieces[p].readings.size(); ++k, ++i)
            if (options_.without && p >= *options_.without) hidden[i] = 1;
    return groupsOf(problem_.day, hidden);
}

Estimated Rounds::result() {
    Estimated out;
    out.z = solution_.x;
    out.x = sum_.valuesOf(out.z.data());
    out.cost = solution_.cost;
    out.converged = solution_.converged;
    out.message = solution_.message;
    out.groups = groups_;
    out.weights = sum_.weights;
    out.prediction = sum_.taken(out.x);
    sum_.fillPosterior(out);
    return out;
}

} // namespace rw::learning
