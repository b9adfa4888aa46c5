// The cost that is made least: residuals in the unknowns counted in prior deviations from the prior's mean, readings
// first, then the prior. Internal to core/learn.
#pragma once

#include "core/learn/estimate.h"

namespace rw::learning {

class Sum {
public:
    // Pieces from `end` on are not told derivatives of.
    Sum(const Problem& problem, const Predictor& predictor, const std::vector<double>& measured, std::size_t end);

    std::vector<double> weights;
    Eigen::VectorXd stiffness; // of each unknown's prior: 1, less where passes scatter (Rounds::easePasses)
    [[nodiscard]] std::vector<double> valuesOf(const double* z) const { return scale().valuesAt(z); }
    // The last one with derivatives is kept: rounds of weighing begin where the one before has ended.
    const Prediction& at(const std::vector<double>& x, bool derivatives) const;
    void keep(const std::vector<double>& x, const Prediction& prediction) { keptAt_ = x, kept_ = prediction; }
    // With derivatives of all pieces. Nothing is kept after.
    Prediction taken(const std::vector<double>& x);
    // As few residuals as say the same: with JᵀJ = L Lᵀ the rows of Lᵀ, L⁻¹ Jᵀ r, and what no unknown can take up.
    [[nodiscard]] std::size_t size() const { return problem_.unknowns.size() + 1; }
    bool evaluate(const double* z, double* residuals, double* jacobian) const;
    // Sum of squares, the prior's included.
    [[nodiscard]] double costAt(const std::vector<double>& z) const;
    // Errors and what they hang on, from the curvature at the solution; moves the values to the posterior's middle
    // where a charge's end cuts it off.
    void fillPosterior(Estimated& out) const;

private:
    [[nodiscard]] Scale scale() const { return {problem_.unknowns, problem_.ties}; }
    // Measured less model, weighed.
    [[nodiscard]] Eigen::VectorXd leftOf(const std::vector<double>& values) const;
    // JᵀJ of the readings, in the unknowns that are estimated on; adds Jᵀ left to `slope`.
    [[nodiscard]] Eigen::MatrixXd told(const Prediction& prediction, const Scale::Slopes& slopes,
                                       const Eigen::VectorXd& left, Eigen::VectorXd& slope) const;
    [[nodiscard]] Eigen::MatrixXd priorRows() const;
    [[nodiscard]] Eigen::VectorXd whitened(const Eigen::VectorXd& z) const;

    const Problem& problem_;
    const Predictor& predictor_;
    const std::vector<double>& measured_;
    std::size_t end_;
    mutable std::vector<double> keptAt_;
    mutable Prediction kept_, passing_;
};

} // namespace rw::learning
