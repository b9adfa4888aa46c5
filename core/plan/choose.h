// What choosing among owned parts is given; core/choose/choose_power.h does it.
#pragma once

#include "core/plan/plan_input.h"

#include <map>
#include <string>
#include <vector>

namespace rw {

// A part that may be fitted instead of the plan's: its values and standard uncertainties, by "group.key".
template<class Values>
struct ChoosePart {
    std::string id, name; // "motor-3", "wound for eight cells"
    Values values;
    std::map<std::string, double> uncertainty;
};

// A combination, or with the others empty a part, that cannot be tried.
struct ChooseLeftOut {
    std::string motor, controller, pack; // ids
    std::string why;
};

struct ChooseSet {
    PlanInput base; // the setup as it stands; gears.pinions and spurs hold every gear at hand of its module
    std::vector<ChoosePart<PlanInput::MotorInput>> motors;
    std::vector<ChoosePart<PlanInput::ControllerInput>> controllers;
    std::vector<ChoosePart<PlanInput::PackInput>> packs;
    std::vector<ChooseLeftOut> leftOut; // known before anything is computed: parts with values missing
};

} // namespace rw
