// Truncated normal variates and uniform numbers that are the same with every standard library.
// Source of the inverse distribution: Boost.Math's erfc_inv.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

namespace rw {

// Quantile of the normal distribution with mean and deviation, truncated to [low, high]; share in (0, 1).
// Ends may be infinite; low ≤ mean ≤ high.
struct TruncatedNormal {
    double mean = 0.0, deviation = 1.0, low = 0.0, high = 0.0;
    [[nodiscard]] double quantile(double share) const;
};

// Standard normal distribution and its inverse; the inverse takes shares in (0, 1), the other gives nothing outside.
[[nodiscard]] double normalShare(double score);
[[nodiscard]] double normalScore(double share);

// mt19937_64 is fixed by the C++ standard, its distributions are not: hence the own conversions.
class SeededUniform {
public:
    explicit SeededUniform(std::uint64_t seed)
        : engine_(seed) {}
    [[nodiscard]] double inUnit();                      // in (0, 1), 53 bits
    [[nodiscard]] std::size_t below(std::size_t bound); // 0 … bound - 1, without bias

private:
    std::mt19937_64 engine_;
};

// One column of a Latin hypercube: `runs` numbers in (0, 1), one in each of `runs` equal strata, in random order.
// McKay, Beckman, Conover, Technometrics 21 (1979) 239–245.
[[nodiscard]] std::vector<double> latinColumn(std::size_t runs, SeededUniform& random);

} // namespace rw
