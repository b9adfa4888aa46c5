// Passes one after the other: what ends a day, and the next pass after a wait. core/physics/README.md 9, 11.
#pragma once

#include "core/plan/plan.h"

#include <optional>
#include <string_view>

namespace rw {

// What forbids another pass after this one: "winding_limit", "case_limit" (soak counted), "controller_limit",
// "pack_limit", "end_charge" (a fifth left), "not_completed"; none: nothing does.
[[nodiscard]] std::optional<std::string_view> whatEndsTheDay(const PlanInput& input, const PassResult& pass);

[[nodiscard]] std::string_view dayEndText(std::string_view what); // "charge, a fifth left"

// None: it cannot be computed, being so hot that it runs away.
[[nodiscard]] std::optional<PassResult> nextPassIfAny(const PassSetup& setup, const PassResult& before, double wait_s);

} // namespace rw
