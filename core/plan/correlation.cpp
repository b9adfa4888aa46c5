#include "core/plan/correlation.h"

#include "core/error.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace rw {

namespace {

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

} // namespace rw
