#include "core/plan/repeats.h"

#include "core/error.h"
#include "core/plan/limits.h"

#include <algorithm>

namespace rw {

std::optional<std::string_view> whatEndsTheDay(const PlanInput& input, const PassResult& pass) {
    constexpr double leastEndCharge = 0.2;
    if (!(pass.windingPeak < input.motor.winding_limit_C)) return "winding_limit";
    if (!(std::max(pass.casePeak, pass.caseSoakPeak) < input.motor.limit_C)) return "case_limit";
    if (!(pass.controllerPeak < input.controller.limit_C)) return "controller_limit";
    if (!(pass.packPeak < input.pack.limit_C)) return "pack_limit";
    if (!(pass.end.charge > leastEndCharge)) return "end_charge";
    if (!pass.completed) return "not_completed";
    return std::nullopt;
}

std::string_view dayEndText(std::string_view what) {
    if (what == "end_charge") return "Charge, a fifth left";
    if (what == "not_completed") return "The pass is not completed";
    return limitRow(what).title;
}

std::optional<PassResult> nextPassIfAny(const PassSetup& setup, const PassResult& before, double wait_s) {
    try {
        return simulatePass(setup, standFor(setup, before.end, wait_s));
    } catch (const InputError&) {
        return std::nullopt;
    }
}

} // namespace rw
