// Invented cars for invented logs. Every number is made up; each is of a size that such a car plausibly has.
#pragma once

#include "core/plan/plan_input.h"

#include <string_view>

namespace rw::generate {

[[nodiscard]] PlanInput lightCar();  // four cells, rear axle driven
[[nodiscard]] PlanInput middleCar(); // six cells, both axles driven
[[nodiscard]] PlanInput heavyCar();  // eight cells, both axles driven

// The middle car as its owner plans it for the main day: warm air, a pack that is not full, a soft cutoff, and how
// unsure each number is.
[[nodiscard]] PlanInput mainDayPlan();
inline constexpr std::string_view mainDayPlanFile = "invented_main_day.json"; // in samples/plans
// What the numbers of the middle car truly are: each of those that its owner is unsure of is off by up to one of its
// standard uncertainties. What logs of it teach can be compared with this.
[[nodiscard]] PlanInput asItTrulyIs(PlanInput plan);

} // namespace rw::generate
