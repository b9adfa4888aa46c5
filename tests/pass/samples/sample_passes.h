// The sample plans' passes, and the same with one thing made harder so that each limit, cutoff and jump occurs
// somewhere.
#pragma once

#include "core/pass/pass.h"

#include <string>
#include <vector>

namespace rw::testing {

struct SamplePass {
    std::string name;
    PassSetup setup;
    StartState start;
};

// There, back, and there again after standing the sample's turn-around time.
[[nodiscard]] std::vector<SamplePass> samplePasses();
// No ramp, low grip, tight current limits, soft and hard cutoff on a low pack, wind and slope, an endpoint below 1.
[[nodiscard]] std::vector<SamplePass> harderPasses();

struct Figure {
    std::string name;
    std::optional<double> value;
    double scale = 0.0; // what 1e-6 of itself means at least: relative to this where the value is nearly 0
};
// Every figure that a pass reports.
[[nodiscard]] std::vector<Figure> figuresOf(const PassResult& result);

} // namespace rw::testing
