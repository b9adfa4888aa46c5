// The labels' plan as things of the garage: vehicle, tyre, motor, controller, pack, gears, venue and setup revision 1,
// each value with its source.
#pragma once

#include "core/plan/labels.h"
#include "storage/garage.h"

#include <string>

namespace rw {

PlanIds keepLabels(Garage& garage, const LabelsPlan& estimated, const std::string& name);

} // namespace rw
