#include "core/plan/limits.h"

#include "core/plan/plan.h"
#include "core/units.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace rw {

namespace {

// Common practice: a lithium-polymer cell is empty at about 3.2 V under load, full at 4.2 V; an axle that carries less
// than 0.15 of its standing load steers no more.
constexpr double emptyCell_V = 3.2, fullCell_V = 4.2, leastFrontLoad = 0.15;

using In = const PlanInput&;
using Pass = const PassResult&;
using Allowed = std::optional<double>;
using enum Dimension;

double motorCase(In, Pass p) { return std::max(p.casePeak, p.caseSoakPeak); }
double controllerHeat(In, Pass p) { return p.controllerPeak; }
double packHeat(In, Pass p) { return p.packPeak; }
double packCurrent(In, Pass p) { return p.peakPackCurrent; }
double motorCurrent(In, Pass p) { return p.peakMotorCurrent; }
double motorRpm(In, Pass p) { return p.peakMotorSpeed * rpmPerRadps; }

Allowed ampere(std::optional<double> rate, double capacity_Ah) {
    return rate ? std::optional(*rate * capacity_Ah) : std::nullopt;
}

constexpr std::array table{
    LimitRow{"winding_limit", "Motor winding", "winding", Temperature, 0, "limit",
             "Fit a smaller pinion, lower the endpoint or shorten the run-up; the winding is hotter than any sensor "
             "shows.",
             MarginRule::Temperature, 0.0, [](In, Pass p) { return p.windingPeak; },
             [](In i) -> Allowed { return i.motor.winding_limit_C; }},
    LimitRow{"case_comfort", "Motor case, after soak", "motor", Temperature, 0, "comfort",
             "Fit a smaller pinion, wait longer between passes, or give the motor air.", MarginRule::Temperature, 0.0,
             motorCase, [](In i) -> Allowed { return i.motor.comfort_C; }},
    LimitRow{"case_limit", "Motor case, limit", "motor limit", Temperature, 0, "limit",
             "Do not run this: fit a smaller pinion or take fewer passes; magnets that get too hot stay weak.",
             MarginRule::Temperature, 0.0, motorCase, [](In i) -> Allowed { return i.motor.limit_C; }},
    LimitRow{"controller_comfort", "Controller", "controller", Temperature, 0, "comfort",
             "Fit a smaller pinion, or give the controller air.", MarginRule::Temperature, 0.0, controllerHeat,
             [](In i) -> Allowed { return i.controller.comfort_C; }},
    LimitRow{"controller_limit", "Controller, limit", "controller limit", Temperature, 0, "limit",
             "Do not run this: a controller that shuts down at speed takes the brakes with it. Fit a smaller pinion or "
             "a larger controller.",
             MarginRule::Temperature, 0.0, controllerHeat, [](In i) -> Allowed { return i.controller.limit_C; }},
    LimitRow{"pack_comfort", "Pack", "pack", Temperature, 0, "comfort",
             "Start with a cooler pack, wait longer between passes, or fit one with less resistance.",
             MarginRule::Temperature, 0.0, packHeat, [](In i) -> Allowed { return i.pack.comfort_C; }},
    LimitRow{"pack_limit", "Pack, limit", "pack limit", Temperature, 0, "limit",
             "Do not run this: hot lithium cells swell and burn. Fit a smaller pinion or a stronger pack.",
             MarginRule::Temperature, 0.0, packHeat, [](In i) -> Allowed { return i.pack.limit_C; }},
    LimitRow{"pack_continuous", "Pack current", "pack current", Current, 0, "continuous",
             "Fit a smaller pinion, set a pack current limit, or take a pack that is rated for more; short bursts age "
             "it.",
             MarginRule::Ceiling, 0.0, packCurrent,
             [](In i) { return ampere(i.pack.continuous_c_rate, i.pack.capacity_Ah); }},
    LimitRow{"pack_burst", "Pack current, burst", "pack burst", Current, 0, "burst",
             "Set a pack current limit at the burst rating or less, or fit a smaller pinion.", MarginRule::Ceiling, 0.0,
             packCurrent,
             [](In i) {
                 return ampere(i.pack.burst_c_rate ? i.pack.burst_c_rate : i.pack.continuous_c_rate,
                               i.pack.capacity_Ah);
             }},
    LimitRow{"controller_continuous", "Controller current", "controller current", Current, 0, "continuous",
             "Fit a smaller pinion, lengthen the throttle ramp, or set a motor current limit.", MarginRule::Ceiling,
             0.0, motorCurrent, [](In i) { return i.controller.continuous_A; }},
    LimitRow{"controller_burst", "Controller current, burst", "controller burst", Current, 0, "burst",
             "Set a motor current limit at the burst rating or less, or lengthen the throttle ramp.",
             MarginRule::Ceiling, 0.0, motorCurrent, [](In i) { return i.controller.burst_A; }},
    LimitRow{"motor_speed", "Motor speed", "motor speed", Rpm, 0, "at most",
             "Fit a larger pinion, or take fewer cells or less timing: the rotor may burst.", MarginRule::Ceiling, 0.0,
             motorRpm, [](In i) { return i.motor.max_speed_rpm; }},
    LimitRow{"electrical_speed", "Electrical speed", "electrical speed", Rpm, 0, "at most",
             "Fit a larger pinion, take fewer cells, or a motor with fewer poles: the controller loses step.",
             MarginRule::Ceiling, 0.0, [](In i, Pass p) { return motorRpm(i, p) * i.motor.poles / 2.0; },
             [](In i) { return i.controller.max_electrical_rpm; }},
    LimitRow{"tyre_speed", "Tyre speed", "tyre", AngularSpeed, 0, "rated",
             "Do not run this: a tyre may burst. Gear shorter, or fit larger tyres or ones that are rated for it.",
             MarginRule::Ceiling, 0.0, [](In, Pass p) { return p.peakWheelSpeed; },
             [](In i) { return i.tyre.max_speed_radps; }},
    LimitRow{"cell_voltage", "Lowest cell", "cells", Voltage, 2, "at least",
             "Fit a smaller pinion, a warmer or fuller pack, or one with less resistance: the cutoff may take the "
             "power.",
             MarginRule::Floor, fullCell_V, [](In, Pass p) { return p.minCellVoltage; },
             [](In) -> Allowed { return emptyCell_V; }},
    LimitRow{
        "front_load", "Front axle load", "front load", Share, 0, "at least",
        "Do not run this: the nose may lift. Move weight forward, add downforce, lengthen the throttle ramp, or go "
        "slower.",
        MarginRule::Floor, 1.0, [](In, Pass p) { return p.minFrontLoadRatio; },
        [](In) -> Allowed { return leastFrontLoad; }},
    LimitRow{"strip", "Strip", "strip", Distance, 0, "of",
             "Shorten the run-up, brake harder, or find a longer strip: it does not stop in time.", MarginRule::Ceiling,
             0.0, [](In, Pass p) { return p.stopAt; }, [](In i) -> Allowed { return i.venue.length_m; }},
};

// A current held at its limit meets it only to the solver's rounding: such a margin is 0, not broken.
constexpr double roundingOfFigures = 1e-9;

// None: this limit says nothing of such a pass.
std::optional<double> shareLeft(const LimitRow& row, double value, double allowed, double air_C) {
    switch (row.rule) {
    case MarginRule::Temperature:
        if (allowed > air_C) return 1.0 - (value - air_C) / (allowed - air_C);
        return value > allowed ? std::optional(-1.0) : std::nullopt;
    case MarginRule::Ceiling:
        if (allowed > 0.0) return 1.0 - value / allowed;
        return value > 0.0 ? -1.0 : 0.0; // nothing allowed at all: broken by anything
    case MarginRule::Floor:
        return (value - allowed) / (row.best - allowed);
    }
    return std::nullopt;
}

std::optional<Margin> marginOf(const LimitRow& row, const PlanInput& input, const PassResult& pass) {
    const std::optional<double> allowed = row.allowed(input);
    if (!allowed) return std::nullopt;
    const double value = row.value(input, pass);
    const std::optional<double> left = shareLeft(row, value, *allowed, input.air.temperature_C);
    if (!left || !std::isfinite(value) || !std::isfinite(*left)) return std::nullopt;
    return Margin{row.name, value, *allowed, std::abs(*left) < roundingOfFigures ? 0.0 : *left};
}

} // namespace

std::span<const LimitRow> limitTable() { return table; }

const LimitRow& limitRow(std::string_view name) {
    const auto found = std::ranges::find(table, name, &LimitRow::name);
    assert(found != table.end());
    return *found;
}

std::string_view boundText(Limit limit) {
    constexpr std::array<std::string_view, 5> texts{"nothing", "motor current limit", "pack current limit", "traction",
                                                    "cutoff"};
    return texts.at(static_cast<std::size_t>(limit));
}

std::vector<Margin> margins(const PlanInput& input, const std::vector<PassResult>& passes) {
    std::vector<Margin> worst;
    for (const LimitRow& row : table) {
        std::optional<Margin> of;
        for (const PassResult& pass : passes)
            if (const auto margin = marginOf(row, input, pass); margin && (!of || margin->margin < of->margin))
                of = margin;
        if (of) worst.push_back(*of);
    }
    std::ranges::stable_sort(worst, {}, &Margin::margin);
    return worst;
}

} // namespace rw
