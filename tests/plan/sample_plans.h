// The invented plans of samples/plans, for tests.
#pragma once

#include "core/plan/plan_json.h"

#include <array>
#include <string>

namespace rw::testing {

inline PlanInput samplePlan(const std::string& name) {
    return readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_") + name + ".json");
}
inline PlanInput lightCar() { return samplePlan("light_two_wheel_drive"); }
inline PlanInput heavyCar() { return samplePlan("heavy_all_wheel_drive"); }
inline PlanInput streamliner() { return samplePlan("streamliner"); }
inline std::array<PlanInput, 3> samplePlans() { return {lightCar(), heavyCar(), streamliner()}; }

} // namespace rw::testing
