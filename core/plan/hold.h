// "Will it hold?" as an answer with its reasons: what is tightest or broken, which gearing at hand would hold, and what
// held the car back on the way to its speed.
#pragma once

#include "core/plan/gears.h"

#include <optional>

namespace rw {

// What bound the first pass for most of its way to the end of the timed zone.
struct HoldBack {
    Limit limit = Limit::None; // None: nothing for longer than half of the way
    double seconds = 0.0;      // for so long
    bool allTheWay = false;    // over nine tenths of it
    bool cellsHelp = false;    // one cell more moves the zone mean by a thousandth or more
};

struct HoldAnswer {
    bool completed = false;         // the first pass reaches the end of the timed zone
    int broken = 0;                 // limits that are broken
    std::optional<Margin> tightest; // smallest margin; none: no limit is stated
    HoldBack heldBack;
    // Where a limit is broken or the pass is not completed: the fastest of the owner's other pairs that fit the mount
    // with which every planned pass stays within every limit; none: there is none.
    std::optional<GearRow> wouldHold;
    int pairsTried = 0; // other pairs that fit the mount; 0: there was nothing to try

    [[nodiscard]] bool holds() const { return completed && broken == 0; }
};

// From the plan's own result, which an invalid input has none of; simulates one pass with a cell more, and where it
// does not hold the owner's gears.
[[nodiscard]] HoldAnswer willItHold(const PlanInput& input, const PlanResult& result, const WorkOptions& options = {});

} // namespace rw
