#include "core/review/compare.h"

#include "core/log/integrals.h"
#include "core/plan/plan.h"
#include "core/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// m/s of the wheels by the plan's gearing; NaN without a plan.
double wheelSpeed(const PlanInput* plan, double motorSpeed) {
    if (!plan) return nan;
    const double wheel = motorSpeed / fittedRatio(*plan);
    return wheel * tyreOf(*plan).radiusAt(wheel);
}

// Measured over ground where there is such a reading, else the wheels'.
double speedAt(const Log& log, const LogReview& review, const PlanInput* plan, std::size_t row) {
    if (!review.groundSpeed.empty()) return review.groundSpeed[row];
    const auto& motor = log[Quantity::MotorSpeed].values;
    return motor.empty() ? nan : wheelSpeed(plan, motor[row]);
}

double valueAt(const Log& log, const LogReview& review, const PlanInput* plan, Quantity quantity, std::size_t row) {
    if (quantity == Quantity::Speed) return speedAt(log, review, plan, row);
    if (quantity == Quantity::Power && !log[quantity].present()) {
        const auto& volts = log[Quantity::PackVoltage].values;
        const auto& amperes = log[Quantity::PackCurrent].values;
        return volts.empty() || amperes.empty() ? nan : volts[row] * amperes[row];
    }
    const auto& values = log[quantity].values;
    return values.empty() ? nan : values[row];
}

// What the model tells of each instant.
struct Told {
    Quantity quantity;
    double (*of)(const Instant& i);
};
using enum Quantity;
constexpr auto told = std::to_array<Told>({
    {Throttle, [](const Instant& i) { return i.throttle; }},
    {Output, [](const Instant& i) { return i.duty; }},
    {PackVoltage, [](const Instant& i) { return i.packVoltage; }},
    {PackCurrent, [](const Instant& i) { return i.packCurrent; }},
    {MotorCurrent, [](const Instant& i) { return i.motorCurrent; }},
    {Power, [](const Instant& i) { return i.packVoltage * i.packCurrent; }},
    {MotorSpeed, [](const Instant& i) { return i.motorSpeed; }},
    {Speed, [](const Instant& i) { return i.speed; }},
    {MotorTemperature, [](const Instant& i) { return kelvinFromCelsius(i.motorCase); }},
    {ControllerTemperature, [](const Instant& i) { return kelvinFromCelsius(i.controller); }},
    {PackTemperature, [](const Instant& i) { return kelvinFromCelsius(i.pack); }},
    {AccelerationX, [](const Instant& i) { return i.acceleration; }},
});

// °C, where it is one that a plan takes.
std::optional<double> startOf(const ReviewPass::Temperature& part) {
    constexpr double coldest = -40.0, hottest = 150.0; // °C, of a plan input
    if (!part.start) return {};
    const double celsius = celsiusFromKelvin(*part.start);
    return celsius >= coldest && celsius <= hottest ? std::optional(celsius) : std::nullopt;
}

} // namespace

PassTrace passTrace(const Log& log, const LogReview& review, const ReviewOptions& options, std::size_t pass,
                    Quantity quantity, double after) {
    const ReviewPass& p = review.passes.at(pass);
    const PlanInput* plan = options.plan && review.sessions[p.session].planFits ? &*options.plan : nullptr;
    const auto time = reviewTime(log, review);
    const std::size_t lastRow = review.sessions[p.session].endRow;
    const double gap = gapLimit(medianStep(time.subspan(p.startRow, p.endRow - p.startRow + 1)));
    PassTrace trace;
    double distance = 0.0;
    bool known = true;
    for (std::size_t i = p.startRow; i <= lastRow && (i <= p.endRow || time[i] <= time[p.endRow] + after); ++i) {
        trace.time.push_back(time[i] - time[p.startRow]);
        trace.value.push_back(valueAt(log, review, plan, quantity, i));
        if (i > p.startRow) {
            const double step = time[i] - time[i - 1];
            const double gone = 0.5 * (speedAt(log, review, plan, i) + speedAt(log, review, plan, i - 1)) * step;
            known = known && step <= gap && std::isfinite(gone);
            distance += gone;
        }
        trace.distance.push_back(known ? distance : nan);
    }
    if (trace.distance.size() < 2 || std::isnan(trace.distance[1])) trace.distance.clear();
    return trace;
}

std::vector<PassTrace> planTraces(const PlanInput& plan, std::span<const Quantity> quantities) {
    std::vector<PassTrace> traces(quantities.size());
    static_cast<void>(simulatePass(passSetup(plan), startState(plan), {}, [&](const Instant& i) {
        for (std::size_t k = 0; k < quantities.size(); ++k) {
            const auto* const found = std::ranges::find(told, quantities[k], &Told::quantity);
            if (found == told.end()) continue; // the model has no such quantity
            traces[k].time.push_back(i.time);
            traces[k].distance.push_back(i.distance);
            traces[k].value.push_back(found->of(i));
        }
    }));
    return traces;
}

PassTrace planTrace(const PlanInput& plan, Quantity quantity) {
    return planTraces(plan, std::span(&quantity, 1)).front();
}

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
