#include "core/plan/uncertain.h"

#include "core/error.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace rw {

namespace {

double allowed(const UncertainField& uncertain, double value) {
    const PlanField& field = *uncertain.field;
    if (field.kind == FieldKind::Whole) {
        const double step = field.step;
        return std::clamp(step * std::round(value / step), field.low, field.high);
    }
    if (field.lowOpen && value <= field.low) {
        // Nearer to the forbidden end than any measurement could tell.
        constexpr double sliver = 1e-9;
        return field.low + sliver * std::min(uncertain.distribution.deviation, uncertain.distribution.mean - field.low);
    }
    return std::clamp(value, field.low, field.high);
}

std::string named(const KeyCorrelation& pair) { return pair.first + " and " + pair.second; }

void checkPairs(const PlanInput& input, const std::string& place) {
    std::set<std::pair<std::string, std::string>> seen;
    for (const KeyCorrelation& pair : input.correlation) {
        for (const std::string& key : {pair.first, pair.second})
            if (!input.uncertainty.contains(key))
                throw InputError(place,
                                 "names \"" + key + "\", which has no uncertainty; give it one or leave the pair out");
        if (pair.first == pair.second)
            throw InputError(place, "pairs " + pair.first + " with itself; expected two different keys");
        if (!(std::abs(pair.coefficient) < 1.0))
            throw InputError(place, "of " + named(pair) + " is out of range; allowed is over -1 and under 1");
        if (!seen.insert(std::minmax(pair.first, pair.second)).second)
            throw InputError(place, "of " + named(pair) + " is given twice; expected each pair once");
    }
}

} // namespace

double UncertainField::value(double share) const { return allowed(*this, distribution.quantile(share)); }

double UncertainField::shifted(double deviations) const {
    return allowed(*this, distribution.mean + deviations * distribution.deviation);
}

double statedUncertainty(const PlanInput& input, const std::string& key) {
    const auto found = input.uncertainty.find(key);
    return found == input.uncertainty.end() ? 0.0 : found->second;
}

std::vector<UncertainField> uncertainFields(const PlanInput& input) {
    std::vector<UncertainField> out;
    for (const auto& [key, deviation] : input.uncertainty) {
        const PlanField* field = findPlanField(key);
        if (field == nullptr || !(deviation > 0.0)) continue;
        const auto mean = effectiveValue(*field, input);
        if (!mean) continue;
        const double beyond = field->kind == FieldKind::Whole ? 0.5 * field->step : 0.0;
        out.push_back({field, {*mean, deviation, field->low - beyond, field->high + beyond}});
    }
    return out;
}

std::vector<std::vector<double>> correlationFactor(const PlanInput& input, const std::vector<std::string>& keys,
                                                   const std::string& fileName) {
    const auto count = static_cast<Eigen::Index>(keys.size());
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(count, count);
    for (const KeyCorrelation& pair : input.correlation) {
        const auto place = [&keys](const std::string& key) { return std::find(keys.begin(), keys.end(), key); };
        const auto a = place(pair.first), b = place(pair.second);
        if (a == keys.end() || b == keys.end()) continue; // an uncertainty of 0: nothing is drawn
        matrix(a - keys.begin(), b - keys.begin()) = matrix(b - keys.begin(), a - keys.begin()) = pair.coefficient;
    }
    const Eigen::LLT<Eigen::MatrixXd> factor(matrix);
    const Eigen::MatrixXd lower = factor.matrixL();
    constexpr double least = 1e-10; // of a variance of 1: below it rounding decides
    if (factor.info() != Eigen::Success || (count > 0 && lower.diagonal().minCoeff() < std::sqrt(least)))
        throw InputError(fileName + ": correlation",
                         "contradicts itself: the matrix of all pairs is not positive definite; lessen the largest "
                         "coefficients or leave pairs out");
    std::vector<std::vector<double>> out(keys.size());
    for (std::size_t i = 0; i < keys.size(); ++i)
        for (std::size_t j = 0; j <= i; ++j)
            out[i].push_back(lower(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)));
    return out;
}

void checkCorrelation(const PlanInput& input, const std::string& fileName) {
    if (input.correlation.empty()) return;
    checkPairs(input, fileName + ": correlation");
    std::vector<std::string> keys;
    for (const auto& [key, deviation] : input.uncertainty)
        keys.push_back(key);
    static_cast<void>(correlationFactor(input, keys, fileName));
}

std::vector<std::vector<double>> drawShares(const PlanInput& input, const std::vector<UncertainField>& fields,
                                            std::size_t runs, std::uint64_t seed) {
    std::vector<std::vector<double>> shares;
    SeededUniform random(seed);
    for (std::size_t k = 0; k < fields.size(); ++k)
        shares.push_back(latinColumn(runs, random));
    if (input.correlation.empty()) return shares;
    std::vector<std::string> keys;
    keys.reserve(fields.size());
    for (const UncertainField& field : fields)
        keys.push_back(field.field->key());
    const std::vector<std::vector<double>> factor = correlationFactor(input, keys, "plan input");
    std::vector<double> scores(fields.size());
    for (std::size_t run = 0; run < runs; ++run) {
        for (std::size_t k = 0; k < fields.size(); ++k)
            scores[k] = normalScore(shares[k][run]);
        for (std::size_t k = 0; k < fields.size(); ++k) {
            if (std::all_of(factor[k].begin(), factor[k].end() - 1, [](double l) { return l == 0.0; })) continue;
            double score = 0.0;
            for (std::size_t j = 0; j <= k; ++j)
                score += factor[k][j] * scores[j];
            shares[k][run] = normalShare(score);
        }
    }
    return shares;
}

void reconcile(PlanInput& input) {
    auto& venue = input.venue;
    if (venue.run_up_m + venue.timed_m > venue.length_m) {
        constexpr double mostOfIt = 0.9;
        const double share = venue.length_m / (venue.run_up_m + venue.timed_m);
        if (venue.timed_m >= venue.length_m) venue.timed_m = std::min(venue.timed_m * share, mostOfIt * venue.length_m);
        venue.run_up_m = venue.length_m - venue.timed_m;
        while (venue.run_up_m + venue.timed_m > venue.length_m)
            venue.run_up_m = std::nextafter(venue.run_up_m, 0.0); // rounding
    }
    input.vehicle.cg_behind_front_m = std::min(input.vehicle.cg_behind_front_m, input.vehicle.wheelbase_m);
}

} // namespace rw
