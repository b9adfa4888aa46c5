// Invented cars for invented logs. Every number is made up; each is of a size that such a car plausibly has.
#pragma once

#include "core/plan/plan_input.h"

namespace rw::generate {

[[nodiscard]] PlanInput lightCar();  // four cells, rear axle driven
[[nodiscard]] PlanInput middleCar(); // six cells, both axles driven
[[nodiscard]] PlanInput heavyCar();  // eight cells, both axles driven

} // namespace rw::generate
