#include "core/review/planned_pass.h"

#include "core/physics/resting_charge.h"
#include "core/plan/plan.h"
#include "core/units.h"

namespace rw {

namespace {

// °C, where it is one that a plan takes.
std::optional<double> startOf(const ReviewPass::Temperature& part) {
    constexpr double coldest = -40.0, hottest = 150.0; // °C, of a plan input
    if (!part.start) return {};
    const double celsius = celsiusFromKelvin(*part.start);
    return celsius >= coldest && celsius <= hottest ? std::optional(celsius) : std::nullopt;
}

} // namespace

PlanInput plannedPass(const PlanInput& plan, const ReviewPass& pass) {
    PlanInput own = plan;
    if (const auto start = startOf(pass.motor)) own.start.motor_C = start;
    if (const auto start = startOf(pass.controller)) own.start.controller_C = start;
    if (const auto start = startOf(pass.pack)) own.start.pack_C = start;
    if (pass.restingVoltage)
        own.pack.charge = restingCharge(passSetup(plan).pack.ocv, *pass.restingVoltage / plan.pack.series);
    constexpr double share = 0.8; // of a straight ramp lies between 10 and 90 %
    if (pass.throttleRise && *pass.throttleRise >= 0.0) own.drive.throttle_ramp_s = *pass.throttleRise / share;
    return own;
}

} // namespace rw
