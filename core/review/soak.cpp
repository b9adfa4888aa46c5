#include "core/review/soak.h"

#include "core/review/regression.h"
#include "core/review/rows.h"

#include <cmath>

namespace rw::review {

namespace {

constexpr double fastest = 2.0, fastSlowest = 120.0;      // s, winding to case: from common practice
constexpr double slowFastest = 150.0, slowest = 3000.0;   // s, case to air
constexpr int gridSteps = 24;
constexpr std::size_t leastReadings = 8;
constexpr double horizon = 900.0;                         // s, the peak of soak comes within

double onGrid(double from, double to, int k) { return from * std::pow(to / from, static_cast<double>(k) / (gridSteps - 1)); }

// Largest value of air + a·exp(−t/fast) + b·exp(−t/slow) from t = 0 on.
double peakOf(double air, double a, double b, double fast, double slow) {
    double peak = air + a + b;
    if (a < 0.0 && b > 0.0) {
        const double t = std::log(-a * slow / (b * fast)) / (1.0 / fast - 1.0 / slow);
        if (t > 0.0 && t < horizon) peak = std::max(peak, air + a * std::exp(-t / fast) + b * std::exp(-t / slow));
    }
    return peak;
}

struct Candidate {
    double peak = 0.0, error = 0.0, rss = 0.0;
};

} // namespace

std::optional<SoakPrediction> predictSoak(std::span<const double> time, std::span<const double> temperature, double air, double sensorStep) {
    const auto n = static_cast<Eigen::Index>(time.size());
    if (time.size() < leastReadings) return {};
    const Eigen::VectorXd observed = Eigen::Map<const Eigen::VectorXd>(temperature.data(), n).array() - air;
    std::vector<Candidate> candidates;
    Eigen::MatrixXd columns(n, 2);
    for (int i = 0; i < gridSteps; ++i)
        for (int k = 0; k < gridSteps; ++k) {
            const double fast = onGrid(fastest, fastSlowest, i), slow = onGrid(slowFastest, slowest, k);
            for (Eigen::Index row = 0; row < n; ++row) {
                const double t = time[static_cast<std::size_t>(row)];
                columns.row(row) << std::exp(-t / fast), std::exp(-t / slow);
            }
            const Regression fit = leastSquares(columns, observed);
            if (!fit.determined) continue;
            const double a = fit.coefficients[0], b = fit.coefficients[1];
            const double rss = (observed - columns * fit.coefficients).squaredNorm();
            candidates.push_back({peakOf(air, a, b, fast, slow), std::hypot(fit.standardErrors[0], fit.standardErrors[1]), rss});
        }
    if (candidates.empty()) return {};
    const auto best = std::min_element(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) { return a.rss < b.rss; });
    constexpr double parameters = 4.0;
    const double quantisation = sensorStep * sensorStep / 12.0, least = 1e-6;  // K²
    const double variance = std::max({best->rss / std::max(1.0, static_cast<double>(n) - parameters), quantisation, least});
    double weights = 0.0, mean = 0.0, square = 0.0, within = 0.0;
    for (const Candidate& c : candidates) {
        const double weight = std::exp(-(c.rss - best->rss) / (2.0 * variance));
        weights += weight;
        mean += weight * c.peak;
        square += weight * c.peak * c.peak;
        within += weight * c.error * c.error;
    }
    mean /= weights;
    const double spread = std::max(0.0, square / weights - mean * mean);
    return SoakPrediction{mean, std::sqrt(spread + within / weights)};
}

} // namespace rw::review
