// The labels' plan as things of the garage: vehicle, tyre, motor, controller, pack, gears, venue and setup revision 1,
// each value with its source; the labels stay with the vehicle, for when one of them changes.
#pragma once

#include "core/plan/labels.h"
#include "storage/garage.h"

#include <optional>
#include <string>

namespace rw {

PlanIds keepLabels(Garage& garage, const LabelsInput& labels, const std::string& name);

// A car of the garage that came from its labels: they, its newest setup, and the strip that came with it.
struct LabelledCar {
    std::string name;
    LabelsInput labels;
    Id setup{ItemKind::Setup, 0};
    std::optional<Id> venue; // none: gone, or known by other labels now
};
[[nodiscard]] std::optional<LabelledCar> labelledCar(Garage& garage, Id vehicle); // none: it did not
// What still is a label or an estimate follows; returns the revision that has it.
Id keepChangedLabels(Garage& garage, const LabelledCar& car, const LabelsInput& labels);

} // namespace rw
