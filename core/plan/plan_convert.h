// Conversions of an input that is known to be valid, for the loops of gear table, reach and spread.
#pragma once

#include "core/plan/plan.h"

namespace rw {

[[nodiscard]] PassSetup convertedSetup(const PlanInput& input);
[[nodiscard]] StartState convertedStart(const PlanInput& input);
// The plan's passes one after the other, without reverse, steady speed and waits.
[[nodiscard]] std::vector<PassResult> simulatePasses(const PlanInput& input, const PassSetup& setup,
                                                     const PassPrecision& precision = fullPrecision);
struct GearPair {
    int pinion = 0, spur = 0;
    double ratio = 0.0;
};
// The owner's pairs that fit the mount, pinions outermost, in the order of the lists.
[[nodiscard]] std::vector<GearPair> fittingPairs(const PlanInput& input);
[[nodiscard]] double ratioWith(const PlanInput& input, int pinion, int spur);

} // namespace rw
