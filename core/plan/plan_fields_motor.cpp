// The motor. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

namespace rw {

using Input = PlanInput;
using MotorIn = PlanInput::MotorInput;

namespace {

PlanField inTwos(PlanField field) {
    field.step = 2.0;
    return field;
}

} // namespace

std::vector<PlanField> motorElectricalFields() {
    return {
        field<&Input::motor, &MotorIn::kv_rpm_per_V>(
            {"motor", "kv_rpm_per_V", "speed constant", RpmPerVolt}, required, {50.0, 20000.0, false},
            {600, 7000, share(0.01)},
            {"Unloaded speed per volt at 20 °C without timing advance.",
             "The more cells, the lower: a motor is rated for a speed.",
             "Spin it with a drill and measure the line voltage, or unloaded speed over voltage from telemetry."}),
        field<&Input::motor, &MotorIn::resistance_ohm>(
            {"motor", "resistance_ohm", "winding resistance", Resistance}, required, fractionOverZero,
            {0.0005, 0.04, share(0.05)},
            {"Resistance between two motor leads at 20 °C.", "Large motors and fast windings have less.",
             "10 A through two leads, millivolts across the same leads, at room temperature."}),
        field<&Input::motor, &MotorIn::no_load_current_A>(
            {"motor", "no_load_current_A", "no-load current", Current}, required, notNegative, {0.5, 15, share(0.05)},
            {"Current that the motor takes spinning free, pinion off, at the no-load voltage.", "",
             "Telemetry with the pinion off, throttle full, pack at the no-load voltage."}),
        field<&Input::motor, &MotorIn::no_load_voltage_V>(
            {"motor", "no_load_voltage_V", "no-load test voltage", Voltage}, required, overZero, {7, 50, share(0.005)},
            {"Voltage at which the no-load current was measured.", "The pack's own voltage.",
             "Telemetry in the same test."}),
        field<&Input::motor, &MotorIn::timing_deg>(
            {"motor", "timing_deg", "timing advance", Angle}, byDefault, {0.0, 45.0, false}, {0, 30, within(2)},
            {"Electrical advance of the commutation; it raises speed per volt and lowers torque per ampere.",
             "Electrical degrees.", "Mark on the end bell times pole pairs, or the controller's setting."}),
        field<&Input::motor, &MotorIn::magnet_coefficient_per_K>(
            {"motor", "magnet_coefficient_per_K", "magnet coefficient", PerKelvin}, byDefault, anyNumber,
            {-0.0012, -0.0009, within(5e-5)},
            {"Change of the magnets' strength per kelvin; hot magnets are weaker.",
             "Neodymium magnets at the stronger end, samarium cobalt at the weaker.",
             "Data sheet of the magnet grade."}),
        field<&Input::motor, &MotorIn::inertia_kgm2>(
            {"motor", "inertia_kgm2", "rotor inertia", Inertia}, byDefault, notNegative, {5e-7, 5e-5, share(0.20)},
            {"Moment of inertia of the rotor with its pinion.", "", "Half of rotor mass times rotor radius squared."}),
        inTwos(field<&Input::motor, &MotorIn::poles>(
            {"motor", "poles", "magnet poles", Number}, byDefault, {2.0, 28.0, false}, {2, 14, exact},
            {"Magnet poles of the rotor, an even number; half of them times speed is the electrical speed.",
             "2 or 4 for inrunners, 10 to 14 for outrunners.", "The maker's sheet, or count cogging steps."})),
        field<&Input::motor, &MotorIn::max_speed_rpm>(
            {"motor", "max_speed_rpm", "highest motor speed", Rpm}, noneByDefault, notNegative,
            {40000, 60000, share(0.02)},
            {"Highest speed that the maker allows for rotor and bearings.", "", "The maker's sheet."}),
        field<&Input::motor, &MotorIn::mass_kg>(
            {"motor", "mass_kg", "mass of the motor", Mass}, noneByDefault, partMasses, {0.08, 1.1, share(0.002)},
            {"Mass of the motor, a part of the vehicle's mass; it tells what another motor changes.", "",
             "Scales, with its leads."}),
    };
}

std::vector<PlanField> motorHeatFields() {
    return {
        field<&Input::motor, &MotorIn::winding_capacity_JpK>(
            {"motor", "winding_capacity_JpK", "heat capacity of the winding", HeatCapacity}, required, overZero,
            {5, 150, share(0.10)},
            {"Heat that warms the copper by one kelvin.", "385 J/K for every kilogram of copper.",
             "About a fifth of the motor's mass is copper."}),
        field<&Input::motor, &MotorIn::case_capacity_JpK>(
            {"motor", "case_capacity_JpK", "heat capacity of the case", HeatCapacity}, required, overZero,
            {30, 600, share(0.10)},
            {"Heat that warms can, stator iron and rotor by one kelvin.", "450 to 900 J/K for every kilogram.",
             "Motor mass less copper, times 500 J/(kg K)."}),
        field<&Input::motor, &MotorIn::winding_case_KpW>(
            {"motor", "winding_case_KpW", "thermal resistance winding to case", ThermalResistance}, required,
            thermalResistances, {0.1, 1, share(0.15)},
            {"How much hotter the winding is than the case per watt that flows; it delays the reading of the sensor.",
             "", "From a log: how fast the case still climbs after the pass."}),
        field<&Input::motor, &MotorIn::case_air_KpW>(
            {"motor", "case_air_KpW", "thermal resistance case to air", ThermalResistance}, required,
            thermalResistances, {1.5, 18, share(0.10)},
            {"How much hotter than the air the standing motor's case is per watt of heat.",
             "Small motors at the upper end.", "From a log of a standing cool-down."}),
        field<&Input::motor, &MotorIn::cooling_coefficient>(
            {"motor", "cooling_coefficient", "cooling by speed", Number}, byDefault, notNegative,
            {0, 0.2, within(0.03)},
            {"How much the moving air helps: cooling grows by this times speed (m/s) to the power 0.8.",
             "Little in a closed body, more with ducts.",
             "Compare cooling while rolling with cooling while standing."}),
        field<&Input::motor, &MotorIn::iron_loss_to_winding>(
            {"motor", "iron_loss_to_winding", "iron loss into the winding", Share}, byDefault, fraction,
            {0, 0.5, within(0.1)},
            {"Share of iron and friction losses that heats the winding instead of the case.", "",
             "Seldom known; 0 puts all of it into the case."}),
        field<&Input::motor, &MotorIn::comfort_C>({"motor", "comfort_C", "comfortable case temperature", Temperature},
                                                  byDefault, temperatures, {70, 90, within(3)},
                                                  {"Case temperature, soak included, that you want to stay under.", "",
                                                   "Common practice; the maker's advice comes first."}),
        field<&Input::motor, &MotorIn::limit_C>(
            {"motor", "limit_C", "case temperature limit", Temperature}, byDefault, temperatures, {90, 110, within(3)},
            {"Case temperature, soak included, that must not be passed.", "",
             "The maker's sheet; magnets lose strength for good beyond their grade."}),
        field<&Input::motor, &MotorIn::winding_limit_C>(
            {"motor", "winding_limit_C", "winding temperature limit", Temperature}, byDefault, {-40.0, 250.0, false},
            {150, 180, within(3)},
            {"Temperature of the copper that its enamel and the solder joints stand.", "",
             "Insulation class of the wire from the maker's sheet."}),
    };
}

} // namespace rw
