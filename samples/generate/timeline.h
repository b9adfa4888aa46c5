// What really happened in a session: standing, blips, passes, cooling, as states over time. Internal to
// samples/generate.
#pragma once

#include "core/pass/pass.h"
#include "samples/generate/generate.h"

#include <vector>

namespace rw::generate {

// One instant as perfect sensors would see it. Temperatures °C, motor speed rpm.
struct Moment {
    double time = 0.0; // s from the session's first row
    double throttle = 0.0, output = 0.0;
    double voltage = 0.0, current = 0.0, motorCurrent = 0.0, ripple = 0.0;
    double motorSpeed = 0.0, speed = 0.0;
    double controller = 0.0, motor = 0.0, pack = 0.0;
};

struct DrivenPass {
    double opens = 0.0, closes = 0.0; // s
    double pedalMoves = 0.0;          // s, where the throttle leaves its level for good
    PassResult result;
    PassSetup setup;
    StartState start;
    double boundByCurrent = 0.0, boundByCutoff = 0.0, boundByTraction = 0.0; // s
};

struct Timeline {
    std::vector<Moment> moments; // by rising time; read straight between
    std::vector<DrivenPass> passes;
    double length = 0.0;                                           // s
    [[nodiscard]] Moment at(double time, std::size_t& from) const; // from: where to begin looking, moved on
};

[[nodiscard]] Timeline driveSession(const SessionPlan& session);

} // namespace rw::generate
