// A whole pass by SUNDIALS CVODE (variable-order Adams, root finding) on the program's right-hand side, with an event
// loop and a search for peaks of its own. For comparison only: it gives up (throws) where a limit's current has no duty
// (the fold).
#pragma once

#include "core/pass/pass.h"

namespace rw::reference {

struct Options {
    double tolerance = 1e-12; // relative
    bool searchPeaks = true;  // refine peaks between samples; off: step ends only
};

// Fills every figure of PassResult. Throws std::runtime_error if CVODE fails.
[[nodiscard]] PassResult simulatePass(const PassSetup& setup, const StartState& start, const Options& options = {});

} // namespace rw::reference
