// Statistics over runs: moments, percentiles, shares of variance. NaN marks a run without the figure.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace rw {

// Percentiles interpolate linearly between order statistics, position (n - 1) q from the smallest (Hyndman & Fan 1996,
// type 7). sd divides by n - 1.
struct Summary {
    std::size_t count = 0;
    std::optional<double> mean, sd, p05, p50, p95; // none without a value; sd none below two
};
[[nodiscard]] Summary summarise(std::vector<double> values);

// One share for each input column: squared coefficients of the linear regression of y on the standardised inputs,
// scaled so that they sum to its R². 0 for an input that never varies; none for all where fewer runs than inputs + 2
// have y.
[[nodiscard]] std::vector<std::optional<double>> varianceShares(const std::vector<std::vector<double>>& inputs,
                                                                const std::vector<double>& y);

// Squared correlation of each input with y: its first-order share, what goes along with it included. None for all where
// fewer than three runs have y.
[[nodiscard]] std::vector<std::optional<double>> firstOrderShares(const std::vector<std::vector<double>>& inputs,
                                                                  const std::vector<double>& y);

} // namespace rw
