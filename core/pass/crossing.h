// From one regime into the next, at a located border.
#pragma once

#include "core/pass/borders.h"

namespace rw::pass {

// A limit may take over and let go within one long step: first steps after a change are short. Leaving the edge of
// sliding, the slip runs like a cube root of time: shorter still.
inline constexpr double stepAfterJump = 5e-3, stepAfterBorder = 2e-2, stepAfterSliding = 1e-4; // s

// Where the integration stands when it meets the border.
struct Meeting {
    double time = 0.0;
    const State& state;
    const Solution& solution;
};

// Changes the regime for every border but Rest, ZoneExit and CutoffVoltage, which are the loop's own. Returns the first
// step to try.
double cross(const Model& model, Border border, const Meeting& at, Regime& regime, double& hint);

} // namespace rw::pass
