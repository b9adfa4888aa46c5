// How much a reading weighs: the noise that residuals show, and how many independent ones they are worth. Internal to
// core/learn.
#pragma once

#include "core/learn/day.h"

namespace rw::learning {

// Residuals of one sensor over one pass, driven or standing.
struct Group {
    std::size_t piece = 0;
    Sensor sensor = Sensor::Voltage;
    bool driven = true;
    std::vector<std::size_t> readings; // global indices, in time
    // What each reading is off by on its own: its rows' noise over the root of their number, rounding.
    std::vector<double> expected;
    double changes = 0.0;          // the noise that neighbouring readings show
    double common = 0.0;           // beside that: what the model does not follow
    double rms = 0.0, noise = 0.0; // of the residuals about 0; what weighs, of them all
    double effective = 0.0;
};

// Without the readings that are steep (Prediction::steep).
[[nodiscard]] std::vector<Group> groupsOf(const Day& day, const std::vector<std::uint8_t>& steep);

// N / (1 + 2 Σ ρ_k) over lags whose correlation stands out of a white series' own; at least 1. The series leans where
// its mean is not 0: that counts as correlation.
[[nodiscard]] double effectiveCount(const std::vector<double>& residuals);

// Before anything is fitted: what neighbouring readings differ by. Weights, one a reading; 0 where left out.
[[nodiscard]] std::vector<double> firstWeights(const Day& day, std::vector<Group>& groups);
// How residuals (measured less model) make weights.
enum class Weighing {
    White, // every reading a witness, with the noise that neighbours show: a lean that the estimate could still take up
           // is not to be taken for correlation
    Effective // the noise what is left over, as many witnesses as are independent
};
// Robust: a residual beyond 2.5 of its noise pulls no harder than at that.
[[nodiscard]] std::vector<double> weights(const Day& day, std::vector<Group>& groups,
                                          const std::vector<double>& residuals, Weighing weighing);

} // namespace rw::learning
