#include "storage/choose_set.h"

#include "storage/allowed.h"
#include "storage/plan_values.h"

#include <cmath>
#include <set>

namespace rw {

namespace {

std::string listed(const std::vector<std::string>& keys) {
    std::string out;
    for (const std::string& key : keys)
        out += (out.empty() ? "" : ", ") + key;
    return out;
}

std::map<std::string, double> uncertaintyOf(ItemKind kind, const PlanInput& input) {
    std::map<std::string, double> out;
    for (const auto& [key, deviation] : input.uncertainty)
        if (keyBelongsTo(kind, key)) out.emplace(key, deviation);
    return out;
}

// The parts of one kind as choosing takes them; `member` is their place in a plan input and in a setup.
template<class Values>
struct Shelf {
    ItemKind kind;
    Values PlanInput::*values;
    Id Setup::*inSetup;
    std::string ChooseLeftOut::*named;
};

template<class PartValues>
void addParts(Garage& garage, const Setup& setup, const Shelf<PartValues>& shelf, ChooseSet& out,
              std::vector<ChoosePart<PartValues>>& parts) {
    for (const Part& part : garage.parts(shelf.kind)) {
        PlanInput input = out.base;
        if (part.id != setup.*shelf.inSetup) {
            const Values all = valuesWithPart(setup.values, shelf.kind, part.values);
            input.*shelf.values = {};
            input.uncertainty.clear();
            if (const auto missing = putPart(input, shelf.kind, all, toString(part.id)); !missing.empty()) {
                ChooseLeftOut left;
                left.*shelf.named = toString(part.id);
                left.why = "these are missing: " + listed(missing);
                out.leftOut.push_back(std::move(left));
                continue;
            }
        }
        parts.push_back({toString(part.id), part.name, input.*shelf.values, uncertaintyOf(shelf.kind, input)});
    }
}

// Teeth of the wheels at hand that mesh with the setup's.
std::vector<int> teethAtHand(const std::vector<Part>& gears, double module_m, const char* key) {
    std::set<int> out;
    for (const Part& gear : gears) {
        const auto teeth = numberOf(gear.values, key);
        if (teeth && numberOf(gear.values, "gears.module_m") == module_m)
            out.insert(static_cast<int>(std::lround(*teeth)));
    }
    return {out.begin(), out.end()};
}

} // namespace

ChooseSet chooseSet(Garage& garage, Id setupId, Id venue) {
    const Setup setup = garage.setup(setupId);
    ChooseSet out;
    out.base = garage.planInput(setupId, venue);
    const std::vector<Part> gears = garage.parts(ItemKind::Gear);
    out.base.gears.pinions = teethAtHand(gears, out.base.gears.module_m, "gears.pinion_teeth");
    out.base.gears.spurs = teethAtHand(gears, out.base.gears.module_m, "gears.spur_teeth");
    addParts(garage, setup,
             Shelf<PlanInput::MotorInput>{ItemKind::Motor, &PlanInput::motor, &Setup::motor, &ChooseLeftOut::motor},
             out, out.motors);
    addParts(garage, setup,
             Shelf<PlanInput::ControllerInput>{ItemKind::Controller, &PlanInput::controller, &Setup::controller,
                                               &ChooseLeftOut::controller},
             out, out.controllers);
    addParts(garage, setup,
             Shelf<PlanInput::PackInput>{ItemKind::Pack, &PlanInput::pack, &Setup::pack, &ChooseLeftOut::pack}, out,
             out.packs);
    return out;
}

} // namespace rw
