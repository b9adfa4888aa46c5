// One thing changed at a time, and what stands in the way when no value of it makes the target.
#pragma once

#include "core/pass/pass.h"
#include "core/plan/parallel.h"

#include <functional>
#include <string_view>
#include <vector>

namespace rw {

class ReachVariable {
public:
    using SetupAt = std::function<PassSetup(double)>;
    ReachVariable(const StartState& start, std::vector<double> coarse, SetupAt setupAt);

    // m/s; -infinity: not completed
    [[nodiscard]] double zoneMean(double x) const { return zoneMean(setupAt_(x), fullPrecision); }
    [[nodiscard]] double sketchedMean(double x) const { return zoneMean(setupAt_(x), sketchPrecision); }
    [[nodiscard]] double zoneMean(const PassSetup& setup, const PassPrecision& precision) const;
    [[nodiscard]] PassSetup setupAt(double x) const { return setupAt_(x); }
    [[nodiscard]] const StartState& start() const { return start_; }
    [[nodiscard]] const std::vector<double>& coarse() const { return coarse_; } // values that stand for its whole range

private:
    StartState start_;
    std::vector<double> coarse_;
    SetupAt setupAt_;
};

// Of the limits that bound the pass at the best value, and of the run-up: the one whose absence would give the most
// speed, the variable chosen anew; "power" where none of them gives a thousandth.
[[nodiscard]] std::string_view whatBinds(const ReachVariable& variable, double best, const WorkOptions& options);

[[nodiscard]] std::string_view bindingText(std::string_view binding); // "traction stands in the way"

} // namespace rw
