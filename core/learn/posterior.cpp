#include "core/learn/posterior.h"

#include "core/plan/normal.h"

#include <cmath>
#include <numbers>

namespace rw::learning {

namespace {

struct Moments {
    double mean = 0.0, variance = 1.0;
};

// Of a standard normal variate below an end.
Moments belowEnd(double end) {
    constexpr double far = -8.0; // the tail is then an exponential one
    if (end < far) return {end + 1.0 / end, 1.0 / (end * end)};
    const double density = std::exp(-0.5 * end * end) / std::sqrt(2.0 * std::numbers::pi);
    const double ratio = density / normalShare(end);
    return {-ratio, 1.0 - ratio * (end + ratio)};
}

} // namespace

bool cutOff(Posterior& posterior, const Eigen::RowVectorXd& along, double room) {
    constexpr double clear = 3.0; // deviations
    const Eigen::VectorXd with = posterior.covariance * along.transpose();
    const double variance = along * with;
    if (!(variance > 0.0)) return false;
    const double deviation = std::sqrt(variance);
    const double middle = -along * (posterior.covariance * posterior.slope); // from where it was looked at
    const double end = (room - middle) / deviation;
    if (end > clear) return false;
    const Moments moments = belowEnd(end);
    posterior.place += -posterior.covariance * posterior.slope + with * (moments.mean / deviation);
    posterior.slope.setZero();
    posterior.covariance += with * with.transpose() * ((moments.variance - 1.0) / variance);
    return true;
}

} // namespace rw::learning
