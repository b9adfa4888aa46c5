// Fitting and weighing in turn. Internal to core/learn.
#pragma once

#include "core/learn/fit.h"
#include "core/learn/sum.h"

namespace rw::learning {

class Rounds {
public:
    Rounds(const Problem& problem, const EstimateOptions& options, const Predictor& predictor,
           const std::vector<double>& measured);

    // To where every reading counts in full: from far off, and from nearby.
    void approach(const std::vector<double>& z);
    void settle(const std::vector<double>& z);
    // On to where as many readings count as are independent.
    void finish();
    // What `at` holds is the prediction at z, with derivatives.
    void know(const std::vector<double>& z, const Prediction& at) { sum_.keep(sum_.valuesOf(z.data()), at); }

    [[nodiscard]] const std::vector<double>& place() const { return solution_.x; }
    // The share of a reading in the cost of where it stands, every reading counting in full with the noise that
    // neighbours show: the same measure for every solution. 1 where only that noise is left, or less.
    [[nodiscard]] double misfit();
    [[nodiscard]] double count() const; // of readings that weigh
    // Prior deviations that the farthest unknown has gone, not of those that passes may scatter in; the farthest that
    // is carried.
    [[nodiscard]] double farthest() const;
    [[nodiscard]] double farthestCarried() const;
    [[nodiscard]] Estimated result();

private:
    void weigh(Weighing weighing);
    void easePasses();
    void fit(bool whole, double done);
    [[nodiscard]] std::vector<Group> groupsAt(const Prediction& prediction) const;

    const Problem& problem_;
    const EstimateOptions& options_;
    const std::vector<double>& measured_;
    Sum sum_;
    Solution solution_;
    std::vector<Group> groups_;
};

} // namespace rw::learning
