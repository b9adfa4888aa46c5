// The controller and its low-voltage cutoff. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

#include <array>

namespace rw {

using Input = PlanInput;
using ControllerIn = PlanInput::ControllerInput;
using CutoffIn = PlanInput::CutoffInput;

namespace {

constexpr std::array<std::string_view, 3> cutoffModes{"off", "soft", "hard"}; // in the order of CutoffMode

} // namespace

std::vector<PlanField> controllerLimitFields() {
    return {
        field<&Input::controller, &ControllerIn::resistance_ohm>(
            {"controller", "resistance_ohm", "controller resistance", Resistance}, required, fraction,
            {0.0001, 0.003, share(0.10)},
            {"Resistance of the switches, leads and plugs between pack and motor, in the motor's loop.", "",
             "Maker's resistance per switch times two, plus leads; connectors add about 0.2 mΩ each."}),
        field<&Input::controller, &ControllerIn::endpoint>(
            {"controller", "endpoint", "throttle endpoint", Share}, byDefault, fractionOverZero, {0.5, 1, within(0.01)},
            {"Largest duty that full throttle asks for.", "Less tames a first pass.",
             "Endpoint adjustment of the transmitter, as the controller shows it."}),
        field<&Input::controller, &ControllerIn::rate_per_s>(
            {"controller", "rate_per_s", "throttle rate limit", Rate}, noneByDefault, overZero, {1, 10, share(0.10)},
            {"Fastest rise of the throttle that the controller lets through (punch setting); 2 means half a second to "
             "full.",
             "", "Log throttle and output: slope of the output after a snap."}),
        field<&Input::controller, &ControllerIn::motor_current_limit_A>(
            {"controller", "motor_current_limit_A", "motor current limit", Current}, noneByDefault, notNegative,
            {80, 500, share(0.03)},
            {"Motor current that the controller holds by lowering the duty.",
             "One to three times the continuous rating.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::pack_current_limit_A>(
            {"controller", "pack_current_limit_A", "pack current limit", Current}, noneByDefault, notNegative,
            {60, 400, share(0.03)},
            {"Pack current that the controller holds by lowering the duty, receiver and servo included.",
             "The pack's burst rating or less.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::continuous_A>(
            {"controller", "continuous_A", "continuous rating", Current}, noneByDefault, notNegative,
            {60, 400, share(0.05)},
            {"Motor current that the maker rates the controller for without a time limit.", "", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::burst_A>(
            {"controller", "burst_A", "burst rating", Current}, noneByDefault, notNegative, {100, 1500, share(0.05)},
            {"Motor current that the maker allows for seconds.",
             "One and a half to six times the continuous rating; be wary of the higher ones.", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::aux_current_A>(
            {"controller", "aux_current_A", "receiver and servo current", Current}, byDefault, notNegative,
            {0.3, 2, share(0.10)},
            {"Current that receiver, servo and fans take from the pack.", "",
             "Pack current on the log while standing."}),
        choiceField<&Input::controller, &ControllerIn::cutoff, &CutoffIn::mode>(
            {"controller.cutoff", "mode", "cutoff", Number}, byDefault, cutoffModes,
            {"What the controller does at low voltage: off nothing, soft holds the voltage by lowering the duty, hard "
             "stops the motor.",
             "Soft or hard with lithium cells.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::cutoff, &CutoffIn::cell_V>(
            {"controller.cutoff", "cell_V", "cutoff voltage per cell", Voltage},
            derived("none; needed unless the mode is off"), notNegative, {3.0, 3.4, within(0.02)},
            {"Pack voltage per cell, under load, at which the cutoff acts.", "",
             "The controller's setting over the number of cells."}),
        field<&Input::controller, &ControllerIn::cutoff, &CutoffIn::delay_s>(
            {"controller.cutoff", "delay_s", "cutoff delay", Time}, byDefault, notNegative, {0, 1, within(0.1)},
            {"How long the voltage must stay below before a hard cutoff acts.", "",
             "From a log in which it acted: time below the voltage until the output falls."}),
    };
}

std::vector<PlanField> controllerLossFields() {
    return {
        field<&Input::controller, &ControllerIn::pwm_Hz>(
            {"controller", "pwm_Hz", "PWM frequency", Frequency}, byDefault, overZero, {8000, 32000, share(0.01)},
            {"Frequency at which the controller switches at part throttle.", "", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::switch_time_s>(
            {"controller", "switch_time_s", "switching time", ShortTime}, byDefault, notNegative,
            {5e-8, 3e-7, share(0.20)},
            {"Time that one switching takes; it sets the switching loss at part throttle.", "",
             "Data sheet of the switches, or oscilloscope at a motor lead."}),
        field<&Input::controller, &ControllerIn::input_capacitance_F>(
            {"controller", "input_capacitance_F", "input capacitance", SmallCapacitance}, byDefault, overZero,
            {0.001, 0.004, share(0.10)},
            {"All capacitors across the controller's input, added ones included.", "",
             "Printed on the capacitors; add them up."}),
        field<&Input::controller, &ControllerIn::input_esr_ohm>(
            {"controller", "input_esr_ohm", "series resistance of the capacitors", Resistance}, byDefault, fraction,
            {0.003, 0.02, share(0.20)},
            {"Series resistance of the input capacitors, which adds to the ripple.", "",
             "Data sheet; parallel capacitors divide it."}),
        field<&Input::controller, &ControllerIn::idle_W>(
            {"controller", "idle_W", "idle heat", Power}, byDefault, notNegative, {1, 5, share(0.10)},
            {"Heat of the controller's own supply and logic, always on.", "",
             "Standing current times pack voltage, less receiver and servo."}),
    };
}

std::vector<PlanField> controllerHeatFields() {
    return {
        field<&Input::controller, &ControllerIn::capacity_JpK>(
            {"controller", "capacity_JpK", "heat capacity", HeatCapacity}, required, overZero, {30, 250, share(0.10)},
            {"Heat that warms the controller by one kelvin.", "", "Mass without leads times 800 J/(kg K)."}),
        field<&Input::controller, &ControllerIn::case_air_KpW>(
            {"controller", "case_air_KpW", "thermal resistance to air", ThermalResistance}, required,
            thermalResistances, {0.5, 12, share(0.10)},
            {"How much hotter than the air it is per watt, standing, its fan running.", "Low with a fan.",
             "From a log of a standing cool-down."}),
        field<&Input::controller, &ControllerIn::cooling_coefficient>(
            {"controller", "cooling_coefficient", "cooling by speed", Number}, byDefault, notNegative,
            {0, 0.2, within(0.03)},
            {"How much the moving air helps: cooling grows by this times speed (m/s) to the power 0.8.",
             "Little in a closed body, more with ducts.",
             "Compare cooling while rolling with cooling while standing."}),
        field<&Input::controller, &ControllerIn::comfort_C>(
            {"controller", "comfort_C", "comfortable temperature", Temperature}, byDefault, temperatures,
            {70, 90, within(3)},
            {"Controller temperature that you want to stay under.", "",
             "Common practice; the maker's advice comes first."}),
        field<&Input::controller, &ControllerIn::limit_C>({"controller", "limit_C", "temperature limit", Temperature},
                                                          byDefault, temperatures, {95, 110, within(3)},
                                                          {"Controller temperature that must not be passed.",
                                                           "Where makers let it shut down.", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::max_electrical_rpm>(
            {"controller", "max_electrical_rpm", "highest electrical speed", Rpm}, noneByDefault, notNegative,
            {100000, 400000, share(0.02)},
            {"Highest commutation speed: motor speed times pole pairs.", "",
             "The maker's sheet, often given for a two-pole motor."}),
        field<&Input::controller, &ControllerIn::max_cells>(
            {"controller", "max_cells", "most cells in series", Number}, noneByDefault, {1.0, 24.0, false},
            {4, 12, exact}, {"Cells in series that the maker rates the controller for.", "", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::mass_kg>(
            {"controller", "mass_kg", "mass of the controller", Mass}, noneByDefault, partMasses,
            {0.05, 0.4, share(0.002)},
            {"Mass of the controller, a part of the vehicle's mass; it tells what another controller changes.", "",
             "Scales, with leads, capacitors and fan."}),
    };
}

} // namespace rw
