// Uncertain inputs that are not independent: the matrix of their correlations, checked, and its Cholesky factor.
#pragma once

#include "core/plan/plan_input.h"

#include <string>
#include <vector>

namespace rw {

// Throws InputError: a key without an uncertainty, a pair twice or of one key, a coefficient not between -1 and 1, a
// matrix that is not positive definite.
void checkCorrelation(const PlanInput& input, const std::string& fileName);

// Lower triangle L with L Lᵀ = the matrix of the keys in the order given, row after row; keys without a correlation
// have a 1 on the diagonal alone. Throws InputError where there is none.
[[nodiscard]] std::vector<std::vector<double>>
correlationFactor(const PlanInput& input, const std::vector<std::string>& keys, const std::string& fileName);

} // namespace rw
