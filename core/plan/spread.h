// Spread: what the stated uncertainties do to a plan. The passes of the runs are sketched (sketchPrecision) where they
// differ. Latin hypercube over all of them, seeded. core/physics/README.md 11.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"
#include "core/plan/spread_statistics.h"
#include "core/plan/worth.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct SpreadOptions {
    std::size_t runs = 2000; // 1 … 1,000,000
    std::uint64_t seed = 1;
    WorkOptions work;
};

struct SpreadLimit {
    std::string_view limit;
    double probabilityBroken = 0.0; // share of the runs in which its margin is negative
    Band margin;                    // share of what is allowed that is left, over the runs that have it
};

// Over the runs that have the figure (a pass that is not completed has no zone mean).
struct SpreadFigure : Summary {
    std::string_view name; // of plan_figures.h, of the first pass
};

// Share of the variance of the zone mean that an input explains: linear regression on the standardised inputs, the
// squared coefficients scaled to the regression's R². They sum to at most 1; the rest is curvature and interplay. Where
// inputs are correlated: the squared correlation of each with the zone mean, which need not add to 1.
struct SpreadDriver {
    std::string key;
    std::optional<double> share; // none where the runs are too few to tell
};

struct SpreadResult {
    std::size_t runs = 0;
    std::uint64_t seed = 0;
    std::optional<double> targetProbability; // none without a target
    double completedProbability = 0.0;       // runs that cannot be computed are not completed and have no figures
    double anyLimitProbability = 0.0;        // runs in which at least one margin is negative
    std::vector<SpreadLimit> limits;         // most likely broken first
    std::vector<SpreadFigure> figures;
    std::vector<SpreadDriver> drivers; // largest first
    WorthResult worth;                 // of measuring each uncertain input
    std::vector<std::string> notes;    // sentences
};

// The same answer for the same seed on any number of threads, to the bit. Throws InputError for an invalid input.
[[nodiscard]] SpreadResult spreadPlan(const PlanInput& input, const SpreadOptions& options);
[[nodiscard]] std::string spreadJson(const SpreadResult& result);

} // namespace rw
