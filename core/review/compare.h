// Passes laid over each other, from any logs, from the throttle's start, over time or distance. core/review/README.md.
#pragma once

#include "core/review/review.h"

#include <optional>
#include <span>
#include <vector>

namespace rw {

struct PassTrace {
    std::vector<double> time;     // s from the throttle's start
    std::vector<double> distance; // m from there; empty where neither speed nor wheel speed is known
    std::vector<double> value;    // of the quantity, SI; NaN where missing
};

// One quantity of one pass, `after` seconds past its end included. Speed without a column of its own is the measured
// track's, else the wheels'.
[[nodiscard]] PassTrace passTrace(const Log& log, const LogReview& review, const ReviewOptions& options,
                                  std::size_t pass, Quantity quantity, double after = 0.0);
// The plan's prediction of the same quantity; empty for a quantity that the model does not have.
[[nodiscard]] PassTrace planTrace(const PlanInput& plan, Quantity quantity);
// Of several quantities, in their order, from one run of the model.
[[nodiscard]] std::vector<PassTrace> planTraces(const PlanInput& plan, std::span<const Quantity> quantities);

enum class CompareAxis { Time, Distance };

// The plan as one pass of a log was really driven: with the pass's start temperatures, the charge that its resting
// voltage tells and the time that its throttle took to open. What the log does not tell stays as planned. startState()
// of it is the pass's start.
[[nodiscard]] PlanInput plannedPass(const PlanInput& plan, const ReviewPass& pass);

} // namespace rw
