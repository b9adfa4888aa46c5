// Random valid plan inputs for property tests. Seeds are constants of the tests: a failure repeats.
#pragma once

#include "core/plan/normal.h"
#include "core/plan/plan_input.h"

namespace rw::testing {

// A sample with every number moved by up to a factor of `spread` within its range, choices and limits drawn at random.
[[nodiscard]] PlanInput plausiblePlan(SeededUniform& random, double spread = 2.0);
// Every field anywhere in its range, ends included; open-ended ones over many decades.
[[nodiscard]] PlanInput strangePlan(SeededUniform& random);

} // namespace rw::testing
