// Margins of passes against the limits of the plan. physics.md 11.
#include "core/plan/plan.h"

#include "core/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

// Common practice: a lithium-polymer cell is empty at about 3.2 V under load, full at 4.2 V; an axle that carries less
// than 0.15 of its standing load steers no more.
constexpr double emptyCell_V = 3.2, fullCell_V = 4.2, leastFrontLoad = 0.15;

// A current held at its limit meets it only to the solver's rounding: such a margin is 0, not broken.
constexpr double roundingOfFigures = 1e-9;

class MarginList {
public:
    explicit MarginList(double air_C)
        : air_C_(air_C) {}

    void temperature(std::string_view limit, double value, double allowed) {
        if (allowed > air_C_)
            add(limit, value, allowed, 1.0 - (value - air_C_) / (allowed - air_C_));
        else if (value > allowed)
            add(limit, value, allowed, -1.0);
    }
    // Nothing allowed at all: broken by anything.
    void ceiling(std::string_view limit, double value, std::optional<double> allowed) {
        if (!allowed) return;
        if (*allowed > 0.0)
            add(limit, value, *allowed, 1.0 - value / *allowed);
        else
            add(limit, value, *allowed, value > 0.0 ? -1.0 : 0.0);
    }
    void add(std::string_view limit, double value, double allowed, double margin) {
        if (!std::isfinite(value) || !std::isfinite(margin)) return;
        list_.push_back({limit, value, allowed, std::abs(margin) < roundingOfFigures ? 0.0 : margin});
    }
    [[nodiscard]] std::vector<Margin> take() { return std::move(list_); }

private:
    double air_C_;
    std::vector<Margin> list_;
};

void temperatures(MarginList& list, const PlanInput& input, const PassResult& pass) {
    const double motorCase = std::max(pass.casePeak, pass.caseSoakPeak);
    list.temperature("winding_limit", pass.windingPeak, input.motor.winding_limit_C);
    list.temperature("case_comfort", motorCase, input.motor.comfort_C);
    list.temperature("case_limit", motorCase, input.motor.limit_C);
    list.temperature("controller_comfort", pass.controllerPeak, input.controller.comfort_C);
    list.temperature("controller_limit", pass.controllerPeak, input.controller.limit_C);
    list.temperature("pack_comfort", pass.packPeak, input.pack.comfort_C);
    list.temperature("pack_limit", pass.packPeak, input.pack.limit_C);
}

std::optional<double> ampere(std::optional<double> rate, double capacity_Ah) {
    return rate ? std::optional(*rate * capacity_Ah) : std::nullopt;
}

void ratings(MarginList& list, const PlanInput& input, const PassResult& pass) {
    const auto& pack = input.pack;
    const auto burst = pack.burst_c_rate ? pack.burst_c_rate : pack.continuous_c_rate;
    list.ceiling("pack_continuous", pass.peakPackCurrent, ampere(pack.continuous_c_rate, pack.capacity_Ah));
    list.ceiling("pack_burst", pass.peakPackCurrent, ampere(burst, pack.capacity_Ah));
    list.ceiling("controller_continuous", pass.peakMotorCurrent, input.controller.continuous_A);
    list.ceiling("controller_burst", pass.peakMotorCurrent, input.controller.burst_A);
    const double rpm = pass.peakMotorSpeed * rpmPerRadps;
    list.ceiling("motor_speed", rpm, input.motor.max_speed_rpm);
    list.ceiling("electrical_speed", rpm * input.motor.poles / 2.0, input.controller.max_electrical_rpm);
    list.ceiling("tyre_speed", pass.peakWheelSpeed, input.tyre.max_speed_radps);
}

std::vector<Margin> marginsOf(const PlanInput& input, const PassResult& pass) {
    MarginList list(input.air.temperature_C);
    temperatures(list, input, pass);
    ratings(list, input, pass);
    const double cell = pass.minCellVoltage;
    list.add("cell_voltage", cell, emptyCell_V, (cell - emptyCell_V) / (fullCell_V - emptyCell_V));
    const double front = pass.minFrontLoadRatio;
    list.add("front_load", front, leastFrontLoad, (front - leastFrontLoad) / (1.0 - leastFrontLoad));
    list.ceiling("strip", pass.stopAt, input.venue.length_m);
    return list.take();
}

} // namespace

std::span<const std::string_view> marginNames() {
    static constexpr std::array<std::string_view, 17> names{
        "winding_limit",    "case_comfort", "case_limit",       "controller_comfort", "controller_limit",
        "pack_comfort",     "pack_limit",   "pack_continuous",  "pack_burst",         "controller_continuous",
        "controller_burst", "motor_speed",  "electrical_speed", "tyre_speed",         "cell_voltage",
        "front_load",       "strip"};
    return names;
}

std::vector<Margin> margins(const PlanInput& input, const std::vector<PassResult>& passes) {
    std::vector<Margin> worst;
    for (const PassResult& pass : passes) {
        for (const Margin& margin : marginsOf(input, pass)) {
            const auto known =
                std::find_if(worst.begin(), worst.end(), [&](const Margin& m) { return m.limit == margin.limit; });
            if (known == worst.end())
                worst.push_back(margin);
            else if (margin.margin < known->margin)
                *known = margin;
        }
    }
    std::stable_sort(worst.begin(), worst.end(), [](const Margin& a, const Margin& b) { return a.margin < b.margin; });
    return worst;
}

} // namespace rw
