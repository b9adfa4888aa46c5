// A normal distribution of the unknowns, and what is left of it where one of them meets an end. Internal to core/learn.
#pragma once

#include <Eigen/Core>

namespace rw::learning {

struct Posterior {
    Eigen::VectorXd place;      // where the cost was looked at; after cutOff its middle
    Eigen::VectorXd slope;      // of the cost there
    Eigen::MatrixXd covariance; // the curvature's inverse
};

// `along` · (z - place) may not exceed `room`. Where less than three deviations are left to that end, the
// distribution becomes the middle and the covariance of what lies before it, and true is returned. A solution that
// leans on an end has a slope: the distribution's own middle lies beyond.
// Source: moments of a normal distribution with one truncated coordinate, the others by regression on it (Tallis,
// Journal of the Royal Statistical Society B 23 (1961) 223-229).
bool cutOff(Posterior& posterior, const Eigen::RowVectorXd& along, double room);

} // namespace rw::learning
