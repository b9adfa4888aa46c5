// Choose: which of the motors, controllers and packs that one owns makes a speed in this vehicle and holds, each
// combination with the gear pair that suits it best. Every row is a plan's first pass, judged like the gear table.
//
// The set is finite and searched whole: passes are sketched, and whatever is near to deciding is looked at in full
// before it decides. The rows' figures are those of the full pass.
#pragma once

#include "core/plan/gears.h"

#include <map>
#include <optional>
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

enum class ChooseRank { Margin, Fastest, LeastCurrent, Chance };

struct ChooseOptions {
    std::optional<ChooseRank> rank; // none: Margin with a target, Fastest without
    std::size_t runs = 500;         // of the spread of each of the best rows
    WorkOptions work;
};

// A combination with its gearing: with a target, of the pairs that are within limits and make it the one with the
// largest tightest margin; where none is, and without a target, the fastest within limits; where none is within limits,
// the one whose tightest margin is largest, completed passes first. Ties by pinion, then spur.
struct ChooseRow : GearPair, JudgedPass {
    std::size_t motor = 0, controller = 0, pack = 0;           // places in the set's lists
    std::optional<double> targetProbability, limitProbability; // of the best rows alone; the latter: any limit broken
    std::vector<std::string> notes;                            // sentences
    PlanInput plan;                                            // the row as a plan of its own
};

struct ChooseResult {
    std::vector<ChooseRow> rows;        // best first
    std::vector<std::size_t> efficient; // rows that no other beats in both zone speed and tightest margin; rising
    std::vector<ChooseLeftOut> leftOut;
    std::size_t passes = 0; // looked at
};

inline constexpr std::size_t rowsWithChances = 20;

// The target is the base's drive.target_mps. Throws InputError where there is no motor, controller or pack, no pair
// that fits, or an invalid base.
[[nodiscard]] ChooseResult choosePower(const ChooseSet& set, const ChooseOptions& options);
// Puts rows in another order and finds the efficient ones anew; Chance takes the probabilities as they are.
void rankChoice(ChooseResult& result, ChooseRank rank);
[[nodiscard]] std::string chooseJson(const ChooseSet& set, const ChooseResult& result);

} // namespace rw
