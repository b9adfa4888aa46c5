// What is drawn of one plan input: the plan's results, the first pass as curves, the forces over speed, the marks of
// the strip. Values only, SI inside; made by planOutcome() on any thread.
#pragma once

#include "core/pass/pass.h"
#include "core/plan/plan.h"
#include "core/plan/plan_input.h"
#include "core/plan/strip.h"

#include <optional>
#include <vector>

namespace rw {

// The first pass, in order of time; all columns of one length.
struct PassCurve {
    std::vector<double> time, distance, speed;                  // s, m, m/s
    std::vector<double> packCurrent, motorCurrent, packVoltage; // A, A, V
    std::vector<double> motorCase, winding;                     // °C
    std::vector<double> force;                                  // N at the tyre
    std::vector<Limit> limit;
    std::vector<Phase> phase;

    [[nodiscard]] std::size_t size() const { return time.size(); }
};

struct GearingForce {
    int pinion = 0, spur = 0;
    std::vector<double> drive; // N over ForceCurves::speed
};

struct ForceCurves {
    std::vector<double> speed, resistance, traction;
    std::vector<GearingForce> gearings; // the one on the bench first, then its neighbours
    std::optional<double> crossing;     // steady top speed of the one on the bench
    double crossingForce = 0.0;
};

struct PlanOutcome {
    PlanInput input;
    PlanResult result;
    PassCurve curve;
    ForceCurves forces;
    StripMarks marks;
};

// Throws InputError where the input cannot be planned with.
[[nodiscard]] PlanOutcome planOutcome(const PlanInput& input);

// Value of a column where the pass is at a distance (m); none beyond both ends.
[[nodiscard]] std::optional<double> curveAt(const PassCurve& curve, const std::vector<double>& column, double distance);
// Where the run-up first reaches a speed (m/s).
[[nodiscard]] std::optional<double> distanceOfSpeed(const PassCurve& curve, double speed);

} // namespace rw
