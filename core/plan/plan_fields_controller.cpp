// The controller and its low-voltage cutoff. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

#include <array>

namespace rw {

using Input = PlanInput;
using ControllerIn = PlanInput::ControllerInput;
using CutoffIn = PlanInput::CutoffInput;

namespace {

constexpr std::array<std::string_view, 3> cutoffModes{"off", "soft", "hard"}; // in the order of CutoffMode

std::vector<PlanField> controllerLimitFields() {
    return {
        field<&Input::controller, &ControllerIn::resistance_ohm>(
            {"controller", "resistance_ohm", "controller resistance", "ohm"}, required, fraction,
            {"Resistance of the switches, leads and plugs between pack and motor, in the motor's loop.", "",
             "Maker's resistance per switch times two, plus leads; connectors add about 0.2 mΩ each."}),
        field<&Input::controller, &ControllerIn::endpoint>(
            {"controller", "endpoint", "throttle endpoint", ""}, byDefault(1), fractionOverZero,
            {"Largest duty that full throttle asks for.", "Less tames a first pass.",
             "Endpoint adjustment of the transmitter, as the controller shows it."}),
        field<&Input::controller, &ControllerIn::rate_per_s>(
            {"controller", "rate_per_s", "throttle rate limit", "1/s"}, noneByDefault, overZero,
            {"Fastest rise of the throttle that the controller lets through (punch setting); 2 means half a second to "
             "full.",
             "", "Log throttle and output: slope of the output after a snap."}),
        field<&Input::controller, &ControllerIn::motor_current_limit_A>(
            {"controller", "motor_current_limit_A", "motor current limit", "A"}, noneByDefault, notNegative,
            {"Motor current that the controller holds by lowering the duty.",
             "One to three times the continuous rating.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::pack_current_limit_A>(
            {"controller", "pack_current_limit_A", "pack current limit", "A"}, noneByDefault, notNegative,
            {"Pack current that the controller holds by lowering the duty, receiver and servo included.",
             "The pack's burst rating or less.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::continuous_A>(
            {"controller", "continuous_A", "continuous rating", "A"}, noneByDefault, notNegative,
            {"Motor current that the maker rates the controller for without a time limit.", "", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::burst_A>(
            {"controller", "burst_A", "burst rating", "A"}, noneByDefault, notNegative,
            {"Motor current that the maker allows for seconds.",
             "One and a half to six times the continuous rating; be wary of the higher ones.", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::aux_current_A>(
            {"controller", "aux_current_A", "receiver and servo current", "A"}, byDefault(0), notNegative,
            {"Current that receiver, servo and fans take from the pack.", "",
             "Pack current on the log while standing."}),
        choiceField<&Input::controller, &ControllerIn::cutoff, &CutoffIn::mode>(
            {"controller.cutoff", "mode", "cutoff", ""}, byDefault(0), cutoffModes,
            {"What the controller does at low voltage: off nothing, soft holds the voltage by lowering the duty, hard "
             "stops the motor.",
             "Soft or hard with lithium cells.", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::cutoff, &CutoffIn::cell_V>(
            {"controller.cutoff", "cell_V", "cutoff voltage per cell", "V"},
            derived("none; needed unless the mode is off"), notNegative,
            {"Pack voltage per cell, under load, at which the cutoff acts.", "",
             "The controller's setting over the number of cells."}),
        field<&Input::controller, &ControllerIn::cutoff, &CutoffIn::delay_s>(
            {"controller.cutoff", "delay_s", "cutoff delay", "s"}, byDefault(0.5), notNegative,
            {"How long the voltage must stay below before a hard cutoff acts.", "",
             "From a log in which it acted: time below the voltage until the output falls."}),
    };
}

std::vector<PlanField> controllerLossFields() {
    return {
        field<&Input::controller, &ControllerIn::pwm_Hz>(
            {"controller", "pwm_Hz", "PWM frequency", "Hz"}, byDefault(12000), overZero,
            {"Frequency at which the controller switches at part throttle.", "", "The controller's setting."}),
        field<&Input::controller, &ControllerIn::switch_time_s>(
            {"controller", "switch_time_s", "switching time", "s"}, byDefault(0), notNegative,
            {"Time that one switching takes; it sets the switching loss at part throttle.", "",
             "Data sheet of the switches, or oscilloscope at a motor lead."}),
        field<&Input::controller, &ControllerIn::input_capacitance_F>(
            {"controller", "input_capacitance_F", "input capacitance", "F"}, byDefault(0.0015), overZero,
            {"All capacitors across the controller's input, added ones included.", "",
             "Printed on the capacitors; add them up."}),
        field<&Input::controller, &ControllerIn::input_esr_ohm>(
            {"controller", "input_esr_ohm", "series resistance of the capacitors", "ohm"}, byDefault(0.005), fraction,
            {"Series resistance of the input capacitors, which adds to the ripple.", "",
             "Data sheet; parallel capacitors divide it."}),
        field<&Input::controller, &ControllerIn::idle_W>(
            {"controller", "idle_W", "idle heat", "W"}, byDefault(0), notNegative,
            {"Heat of the controller's own supply and logic, always on.", "",
             "Standing current times pack voltage, less receiver and servo."}),
        field<&Input::controller, &ControllerIn::capacity_JpK>(
            {"controller", "capacity_JpK", "heat capacity", "J/K"}, required, overZero,
            {"Heat that warms the controller by one kelvin.", "", "Mass without leads times 800 J/(kg K)."}),
        field<&Input::controller, &ControllerIn::case_air_KpW>(
            {"controller", "case_air_KpW", "thermal resistance to air", "K/W"}, required, thermalResistances,
            {"How much hotter than the air it is per watt, standing, its fan running.", "Low with a fan.",
             "From a log of a standing cool-down."}),
        field<&Input::controller, &ControllerIn::cooling_coefficient>(
            {"controller", "cooling_coefficient", "cooling by speed", ""}, byDefault(0), notNegative,
            {"How much the moving air helps: cooling grows by this times speed (m/s) to the power 0.8.",
             "Little in a closed body, more with ducts.",
             "Compare cooling while rolling with cooling while standing."}),
        field<&Input::controller, &ControllerIn::comfort_C>(
            {"controller", "comfort_C", "comfortable temperature", "°C"}, byDefault(80), temperatures,
            {"Controller temperature that you want to stay under.", "",
             "Common practice; the maker's advice comes first."}),
        field<&Input::controller, &ControllerIn::limit_C>({"controller", "limit_C", "temperature limit", "°C"},
                                                          byDefault(100), temperatures,
                                                          {"Controller temperature that must not be passed.",
                                                           "Where makers let it shut down.", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::max_electrical_rpm>(
            {"controller", "max_electrical_rpm", "highest electrical speed", "rpm"}, noneByDefault, notNegative,
            {"Highest commutation speed: motor speed times pole pairs.", "",
             "The maker's sheet, often given for a two-pole motor."}),
        field<&Input::controller, &ControllerIn::max_cells>(
            {"controller", "max_cells", "most cells in series", ""}, noneByDefault, {1.0, 24.0, false},
            {"Cells in series that the maker rates the controller for.", "", "The maker's sheet."}),
        field<&Input::controller, &ControllerIn::mass_kg>(
            {"controller", "mass_kg", "mass of the controller", "kg"}, noneByDefault, partMasses,
            {"Mass of the controller, a part of the vehicle's mass; it tells what another controller changes.", "",
             "Scales, with leads, capacitors and fan."}),
    };
}

} // namespace

std::vector<PlanField> controllerFields() {
    std::vector<PlanField> out = controllerLimitFields();
    const std::vector<PlanField> losses = controllerLossFields();
    out.insert(out.end(), losses.begin(), losses.end());
    return out;
}

} // namespace rw
