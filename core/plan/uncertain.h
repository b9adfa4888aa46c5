// The inputs of a plan that carry a standard uncertainty, and how a value drawn for one becomes a valid input again.
#pragma once

#include "core/plan/normal.h"
#include "core/plan/plan_fields.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace rw {

// Read as normal around the input's own value, truncated to the field's valid range; ends that are not allowed are left
// out. A whole number is drawn over its range and half a step more, and rounded to the nearest allowed one.
struct UncertainField {
    const PlanField* field = nullptr;
    TruncatedNormal distribution;

    [[nodiscard]] double value(double share) const;        // share in (0, 1)
    [[nodiscard]] double shifted(double deviations) const; // the mean moved by so many deviations, kept in range
};

// In the order of their keys. Uncertainties of 0, and those of values that are not set and have nothing in their stead,
// are left out.
[[nodiscard]] std::vector<UncertainField> uncertainFields(const PlanInput& input);
// In the key's unit; 0 where the input states none.
[[nodiscard]] double statedUncertainty(const PlanInput& input, const std::string& key);
// Uncertain inputs that are not independent. Throws InputError: a key without an uncertainty, a pair twice or of one
// key, a coefficient not between -1 and 1, a matrix that is not positive definite.
void checkCorrelation(const PlanInput& input, const std::string& fileName);
// Lower triangle L with L Lᵀ = the matrix of the keys in the order given, row after row; keys without a correlation
// have a 1 on the diagonal alone. Throws InputError where there is none.
[[nodiscard]] std::vector<std::vector<double>>
correlationFactor(const PlanInput& input, const std::vector<std::string>& keys, const std::string& fileName);
// Shares to draw every field by, a column a field: a Latin hypercube, seeded, then a Gaussian copula where the input
// states correlations (normal scores mixed by the Cholesky factor, and back). Columns without a correlation are those
// of the hypercube. Source: Iman & Conover, Communications in Statistics B11 (1982) 311-334.
[[nodiscard]] std::vector<std::vector<double>>
drawShares(const PlanInput& input, const std::vector<UncertainField>& fields, std::size_t runs, std::uint64_t seed);
// Drawn one by one, values may contradict each other: a run-up and zone longer than the strip shorten the run-up (both
// in proportion where that is not enough), a centre of gravity behind the rear axle lies on it.
void reconcile(PlanInput& input);

} // namespace rw
