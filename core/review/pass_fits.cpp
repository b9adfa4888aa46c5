#include "core/review/pass_fits.h"

#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/review/regression.h"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <vector>

namespace rw::review {

namespace {

constexpr double fastest = 2.0, fastSlowest = 120.0;    // s, winding to case: from common practice
constexpr double slowFastest = 150.0, slowest = 3000.0; // s, case to air
constexpr int gridSteps = 24;
constexpr std::size_t leastReadings = 8;
constexpr double horizon = 900.0; // s, the peak of soak comes within

double onGrid(double from, double to, int k) {
    return from * std::pow(to / from, static_cast<double>(k) / (gridSteps - 1));
}

struct Candidate {
    double peak = 0.0, variance = 0.0, rss = 0.0; // K, K² per K² of noise, K²
    bool atEdge = false;                          // of the slowest winding there is
};

// Least squares of readings (above air) on the two decays f and s; where its largest value from t = 0 on lies.
std::optional<Candidate> candidate(const Eigen::VectorXd& f, const Eigen::VectorXd& s, const Eigen::VectorXd& y,
                                   double fast, double slow) {
    const double ff = f.squaredNorm(), ss = s.squaredNorm(), fs = f.dot(s), fy = f.dot(y), sy = s.dot(y);
    const double determinant = ff * ss - fs * fs;
    if (!(determinant > 1e-12 * ff * ss)) return {};
    const double a = (fy * ss - sy * fs) / determinant, b = (sy * ff - fy * fs) / determinant;
    double at = 0.0;
    if (a < 0.0 && b > 0.0) at = std::clamp(std::log(-a * slow / (b * fast)) / (1.0 / fast - 1.0 / slow), 0.0, horizon);
    const double u = std::exp(-at / fast), v = std::exp(-at / slow);
    return Candidate{a * u + b * v, (u * u * ss - 2.0 * u * v * fs + v * v * ff) / determinant,
                     y.squaredNorm() - a * fy - b * sy};
}

// Where winding and case are known the nodes are linear: what a degree of each at the start makes of the case later.
std::optional<SoakPrediction> predictKnownSoak(std::span<const double> time, std::span<const double> temperature,
                                               double air, double sensorStep, const TwoNodeHeat& motor) {
    constexpr std::size_t least = 3;
    if (time.size() < least) return {};
    const auto n = static_cast<Eigen::Index>(time.size());
    Eigen::MatrixXd ofADegree(n, 2);
    Eigen::VectorXd above(n);
    for (Eigen::Index row = 0; row < n; ++row) {
        const auto i = static_cast<std::size_t>(row);
        ofADegree(row, 0) = cool(motor, {1.0, 0.0}, 0.0, time[i]).motorCase;
        ofADegree(row, 1) = cool(motor, {0.0, 1.0}, 0.0, time[i]).motorCase;
        above[row] = temperature[i] - air;
    }
    const Regression fit = leastSquares(ofADegree, above);
    if (!fit.determined) return {};
    const auto peakOf = [&](double winding, double motorCase) {
        return casePeak(motor, {winding, motorCase}, 0.0).temperature;
    };
    const double winding = fit.coefficients[0], motorCase = fit.coefficients[1], peak = peakOf(winding, motorCase);
    const double rounding = std::max(1.0, sensorStep / std::sqrt(12.0) / std::max(fit.residualDeviation, 1e-12));
    const double byWinding = peakOf(winding + fit.standardErrors[0], motorCase) - peak,
                 byCase = peakOf(winding, motorCase + fit.standardErrors[1]) - peak;
    return SoakPrediction{air + peak, rounding * std::hypot(byWinding, byCase)};
}

struct Sample {
    double voltage = 0.0, current = 0.0, charge = 0.0, slow = 0.0;
};

constexpr std::size_t mostSamples = 4096; // more add nothing but time: every k-th is taken

// Current through a first-order low-pass over one step, exact for a current that runs straight between the samples.
double lowPass(double slow, double before, double now, double step, double constant) {
    const double decay = std::exp(-step / constant);
    return slow * decay + now - before * decay - (now - before) * constant / step * (1.0 - decay);
}

std::vector<Sample> samplesOf(const Context& context, const ReviewPass& pass, const std::vector<CutSpan>& cut) {
    const auto voltage = context[Quantity::PackVoltage], current = context[Quantity::PackCurrent];
    const auto& time = context.time;
    const double gap = context.scale[pass.session].gapLimit, margin = context.th.resistanceGapMargin + timeEpsilon;
    std::vector<Sample> samples;
    double charge = 0.0, slow = nan, afterGap = -std::numeric_limits<double>::infinity();
    std::optional<std::size_t> before;
    std::vector<double> times;
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i) {
        if (std::isnan(current[i])) continue;
        const double step = before ? time[i] - time[*before] : 0.0;
        if (!before) slow = current[i];
        if (step > gap) {
            while (!times.empty() && time[*before] - times.back() <= margin)
                times.pop_back(), samples.pop_back();
            afterGap = time[i];
        } else if (step > 0.0) {
            charge += 0.5 * (current[i] + current[*before]) * step;
        }
        if (step > 0.0) slow = lowPass(slow, current[*before], current[i], step, context.th.resistanceLowPass);
        before = i;
        const bool held = std::ranges::any_of(cut, [&](const CutSpan& span) { return span.rows.holds(i); });
        if (time[i] - afterGap <= margin || held || std::isnan(voltage[i])) continue;
        samples.push_back({voltage[i], current[i], charge, slow});
        times.push_back(time[i]);
    }
    return samples;
}

} // namespace

std::optional<SoakPrediction> predictSoak(std::span<const double> time, std::span<const double> temperature, double air,
                                          double sensorStep) {
    if (time.size() < leastReadings) return {};
    const auto n = static_cast<Eigen::Index>(time.size());
    const Eigen::Map<const Eigen::VectorXd> t(time.data(), n);
    const Eigen::VectorXd above = Eigen::Map<const Eigen::VectorXd>(temperature.data(), n).array() - air;
    std::vector<Eigen::VectorXd> slows;
    slows.reserve(static_cast<std::size_t>(gridSteps));
    for (int k = 0; k < gridSteps; ++k)
        slows.push_back((-t / onGrid(slowFastest, slowest, k)).array().exp());
    std::vector<Candidate> candidates;
    for (int i = 0; i < gridSteps; ++i) {
        const double fast = onGrid(fastest, fastSlowest, i);
        const Eigen::VectorXd decay = (-t / fast).array().exp();
        for (int k = 0; k < gridSteps; ++k)
            if (const auto found =
                    candidate(decay, slows[static_cast<std::size_t>(k)], above, fast, onGrid(slowFastest, slowest, k)))
                candidates.push_back(*found), candidates.back().atEdge = i == gridSteps - 1;
    }
    if (candidates.empty()) return {};
    const auto best = std::ranges::min_element(candidates, {}, &Candidate::rss);
    constexpr double parameters = 4.0;
    const double quantisation = sensorStep * sensorStep / 12.0, least = 1e-6; // K²
    const double noise =
        std::max({best->rss / std::max(1.0, static_cast<double>(n) - parameters), quantisation, least});
    double weights = 0.0, edge = 0.0, mean = 0.0, square = 0.0, within = 0.0;
    for (const Candidate& c : candidates) {
        const double weight = std::exp(-(c.rss - best->rss) / (2.0 * noise));
        weights += weight;
        edge += c.atEdge ? weight : 0.0;
        mean += weight * c.peak;
        square += weight * c.peak * c.peak;
        within += weight * c.variance * noise;
    }
    constexpr double beyond = 0.1; // readings that want a slower winding than any show no peak yet
    if (edge > beyond * weights) return {};
    mean /= weights;
    return SoakPrediction{air + mean, std::sqrt(std::max(0.0, square / weights - mean * mean) + within / weights)};
}

std::optional<SoakPrediction> predictTaughtSoak(std::span<const double> time, std::span<const double> temperature,
                                                double air, double sensorStep, const PlanInput& plan) {
    auto found = predictKnownSoak(time, temperature, air, sensorStep, passSetup(plan).motor.heat);
    if (!found) return {};
    double variance = found->standardError * found->standardError;
    for (const std::string_view key :
         {"motor.winding_capacity_JpK", "motor.case_capacity_JpK", "motor.winding_case_KpW", "motor.case_air_KpW"}) {
        const auto deviation = plan.uncertainty.find(std::string(key));
        const PlanField* const field = findPlanField(key);
        if (deviation == plan.uncertainty.end() || field == nullptr) continue;
        PlanInput moved = plan;
        field->set(moved, std::min(*field->get(plan) + deviation->second, field->high));
        const auto other = predictKnownSoak(time, temperature, air, sensorStep, passSetup(moved).motor.heat);
        if (other) variance += (other->peak - found->peak) * (other->peak - found->peak);
    }
    found->standardError = std::sqrt(variance);
    return found;
}

std::optional<PackResistance> packResistance(const Context& context, const ReviewPass& pass,
                                             const std::vector<CutSpan>& cut) {
    const ReviewThresholds& th = context.th;
    if (!context.has(Quantity::PackVoltage) || !context.has(Quantity::PackCurrent)) return {};
    const auto samples = samplesOf(context, pass, cut);
    if (samples.size() < static_cast<std::size_t>(th.resistanceSamples)) return {};
    const auto [low, high] = std::ranges::minmax_element(samples, {}, &Sample::current);
    if (!(high->current > 0.0) || high->current - low->current < th.resistanceSpan * high->current) return {};
    const std::size_t stride = (samples.size() + mostSamples - 1) / mostSamples;
    const auto n = static_cast<Eigen::Index>((samples.size() + stride - 1) / stride);
    Eigen::MatrixXd columns(n, 4);
    Eigen::VectorXd voltage(n);
    for (Eigen::Index row = 0; row < n; ++row) {
        const Sample& s = samples[static_cast<std::size_t>(row) * stride];
        columns.row(row) << 1.0, s.current, s.charge, s.slow;
        voltage[row] = s.voltage;
    }
    const Regression fit = robustRegression(columns, voltage);
    if (!fit.determined) return {};
    const double ohm = -fit.coefficients[1], error = fit.standardErrors[1];
    if (!(ohm > 0.0) || error > th.resistanceError * ohm) return {};
    return PackResistance{ohm, error};
}

} // namespace rw::review
