// Passes one after the other: what ends a day, the next pass after a wait, and temperatures over all of them.
// core/physics/README.md 9, 11.
#pragma once

#include "core/plan/plan.h"

#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace rw {

// What forbids another pass after this one: "winding_limit", "case_limit" (soak counted), "controller_limit",
// "pack_limit", "end_charge" (a fifth left), "not_completed"; none: nothing does.
[[nodiscard]] std::optional<std::string_view> whatEndsTheDay(const PlanInput& input, const PassResult& pass);

[[nodiscard]] std::string_view dayEndText(std::string_view what); // "charge, a fifth left"

// None: it cannot be computed, being so hot that it runs away.
[[nodiscard]] std::optional<PassResult> nextPassIfAny(const PassSetup& setup, const PassResult& before, double wait_s);

// Temperatures over a session: the same pass again and again with the wait between, and the soak after the last.
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
