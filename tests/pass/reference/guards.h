// Guards of the outside integrator's event loop: functions that are positive while the present equations hold.
// Written from the physics, apart from the program's own margins, so that the two event loops check each other.
#pragma once

#include "core/pass/model.h"

#include <array>
#include <cstddef>

namespace rw::reference {

enum Guard : std::size_t {
    Mark,     // next mark of the strip
    Target,   // speed asked for
    Stopping, // the rest speed, or 0 before it was exceeded
    Rolling,  // exceeds the rest speed
    Launch,   // the standing vehicle begins to move
    Slowing,  // acceleration falls through 0: the place of the largest speed
    Flow,     // current begins or ends
    Push,     // shaft torque changes sign
    FrontLoad,
    RearLoad,
    TotalLoad,
    Knot,       // charge reaches a knot of the voltage table
    OtherLimit, // another limit's duty becomes the least
    Fold,       // the limit's current cannot be had any more
    Edge,       // the tyre reaches the edge of sliding
    Voltage,    // hard cutoff's voltage
    Overtaken,  // a wind from behind is overtaken: the drag turns round
    guardCount
};
using Guards = std::array<double, guardCount>;

// What the loop knows beside the regime.
struct Situation {
    double nextMark = 0.0; // m
    bool marked = true;    // there is a next mark
    double target = 0.0;   // m/s
    bool targetOpen = false;
    bool rolled = false;
    bool voltageWatched = false, belowCutoff = false;
};

[[nodiscard]] Guards guards(const pass::Model& model, double time, const pass::State& y, const pass::Regime& regime,
                            const pass::Solution& s, const Situation& situation);
// The limit, other than the regime's and traction, whose duty is the least at the solution.
[[nodiscard]] Limit leastLimit(const pass::Model& model, double time, const pass::Regime& regime,
                               const pass::Solution& s);

} // namespace rw::reference
