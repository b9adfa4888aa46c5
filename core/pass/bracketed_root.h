// Roots within a step, by Boost's bracketing solver.
#pragma once

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cstdint>

namespace rw::pass {

// Bracketed root, share of a step, to a precision in s; where f falls from not negative at `low` to negative at `high`.
// Returns the right end.
template<class F>
double bracketedRoot(F&& f, double low, double high, double atLow, double atHigh, double stepLength, double time,
                     double precision) {
    const double wanted = std::max(precision, 4e-16 * time) / std::max(stepLength, 1e-300);
    const auto close = [wanted](double a, double b) { return b - a <= wanted; };
    std::uintmax_t iterations = 100;
    return boost::math::tools::toms748_solve(f, low, high, atLow, atHigh, close, iterations).second;
}

} // namespace rw::pass
