// What is fitted to one pass: where a case temperature will peak after it, from a log that ends before it does, and the
// pack's resistance. core/review/README.md, core/physics/README.md 9. Internal to core/review.
#pragma once

#include "core/plan/plan_input.h"
#include "core/review/context.h"

#include <optional>
#include <span>

namespace rw::review {

struct SoakPrediction {
    double peak = 0.0, standardError = 0.0; // K
};

// Readings of the case from the pass's end on (time s from there), air temperature K. Two linear nodes that cool:
// T = air + a·exp(−t/τ1) + b·exp(−t/τ2). The time constants are searched over a grid that holds all that motors of this
// kind show; the error is the spread of the peak over the grid, weighted by likelihood. None: too few readings,
// or such as want a slower winding than any, like a straight rise.
[[nodiscard]] std::optional<SoakPrediction>
predictSoak(std::span<const double> time, std::span<const double> temperature, double air, double sensorStep);

// The same with the motor of a plan that logs taught: only the temperatures of winding and case at the pass's end are
// sought, each value of the motor is moved by what is not known of it.
[[nodiscard]] std::optional<SoakPrediction> predictTaughtSoak(std::span<const double> time,
                                                              std::span<const double> temperature, double air,
                                                              double sensorStep, const PlanInput& plan);

struct PackResistance {
    double ohm = 0.0, standardError = 0.0;
};
// cut: spans in which the cutoff acts. None where the pass does not determine it.
[[nodiscard]] std::optional<PackResistance> packResistance(const Context& context, const ReviewPass& pass,
                                                           const std::vector<CutSpan>& cut);

} // namespace rw::review
