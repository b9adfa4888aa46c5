// A plan's first pass, judged like a row of the gear table: completed, no margin negative.
#pragma once

#include "core/plan/plan.h"

#include <optional>

namespace rw {

struct JudgedPass {
    PassResult pass;
    Margin tightest;           // every plan has the strip's at least
    bool withinLimits = false; // completed and no margin negative, comfort and continuous ratings included
    bool makesTarget = false;  // mean through the zone at least the plan's target; false without one
};

// `setup` is the converted input, perhaps with another ratio. None: no pass can be computed, the values lie too far
// apart.
[[nodiscard]] std::optional<JudgedPass> judgedPass(const PlanInput& input, const PassSetup& setup,
                                                   const PassPrecision& precision = fullPrecision);

// How far a sketched figure may lie from the full one, generously: what is nearer than this to deciding is looked at in
// full before it decides.
inline constexpr double doubtOfSketches = 1e-4;

} // namespace rw
