// One thing changed at a time, and what stands in the way when no value of it makes the target.
#pragma once

#include "core/plan/gears.h"

#include <functional>
#include <string_view>
#include <vector>

namespace rw {

struct ReachVariable {
    StartState start;
    std::vector<double> coarse; // values that stand for its whole range
    std::function<PassSetup(double)> setupAt;

    // m/s; -infinity: not completed
    [[nodiscard]] double zoneMean(double x) const { return zoneMean(setupAt(x), fullPrecision); }
    [[nodiscard]] double sketchedMean(double x) const { return zoneMean(setupAt(x), sketchPrecision); }
    [[nodiscard]] double zoneMean(const PassSetup& setup, const PassPrecision& precision) const;
};

// The overall ratio, from 0.5 to 50. The input is known to be valid.
inline constexpr double lowestRatio = 0.5, highestRatio = 50.0;
[[nodiscard]] ReachVariable gearingOf(const PlanInput& input);

// Of the limits that bound the pass at the best value, and of the run-up: the one whose absence would give the most
// speed, the variable chosen anew; "power" where none of them gives a thousandth.
[[nodiscard]] std::string_view whatBinds(const ReachVariable& variable, double best, const WorkOptions& options);

[[nodiscard]] std::string_view bindingText(std::string_view binding); // "traction stands in the way"

} // namespace rw
