// Savitzky–Golay smoothing and derivatives: least-squares polynomials over a moving window.
// Source: Savitzky, Golay, Anal. Chem. 36 (1964) 1627–1639. Ends of a record use the first or last whole window,
// evaluated off its centre.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace rw {

struct SavitzkyGolay {
    int points = 5;     // window, odd, > order
    int order = 2;      // of the polynomial, 0..6
    int derivative = 0; // 0..order
};

// Weights for unit steps; at is the place in the window where the polynomial is evaluated, 0..points−1.
// value = Σ weight[i] · sample[i]. Asserts the ranges above.
[[nodiscard]] std::vector<double> savitzkyGolayWeights(const SavitzkyGolay& filter, int at);

// Over samples a constant step apart (s). Shorter than the window, or holding NaN within it: NaN there.
[[nodiscard]] std::vector<double> savitzkyGolay(std::span<const double> values, double step,
                                                const SavitzkyGolay& filter);

} // namespace rw
