// Temperatures over a session: the same pass again and again with the wait between, and the soak after the last.
#pragma once

#include "core/plan/plan_input.h"

#include <utility>
#include <vector>

namespace rw {

struct HeatHistory {
    std::vector<double> time;                                 // s from the first start
    std::vector<double> winding, motorCase, controller, pack; // °C
    std::vector<std::pair<double, double>> passes;            // s, from and to
};

// count passes; each starts from what the last and the wait left.
[[nodiscard]] HeatHistory heatHistory(const PlanInput& input, int count);
// As many passes as tell the story: those planned, and the one that goes over a limit, at most eight.
[[nodiscard]] int passesWorthShowing(const PlanInput& input, int passesUntilLimit);

} // namespace rw
