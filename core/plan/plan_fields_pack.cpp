// The pack. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

namespace rw {

using Input = PlanInput;
using PackIn = PlanInput::PackInput;

namespace {} // namespace

std::vector<PlanField> packElectricalFields() {
    return {
        field<&Input::pack, &PackIn::series>(
            {"pack", "series", "cells in series", Number}, required, {1.0, 24.0, false}, {2, 12, exact},
            {"Cells in series; the voltage.", "", "Printed on the pack; add packs that are wired in series."}),
        field<&Input::pack, &PackIn::parallel>(
            {"pack", "parallel", "cells in parallel", Number}, byDefault, {1.0, 10.0, false}, {1, 2, exact},
            {"Cells or packs in parallel.", "", "Printed on the pack; count packs that are wired in parallel."}),
        field<&Input::pack, &PackIn::capacity_Ah>(
            {"pack", "capacity_Ah", "capacity", Charge}, required, overZero, {2, 10, share(0.02)},
            {"Charge of the whole pack, parallel cells included.", "",
             "What the charger puts in from storage to full, doubled, or the label."}),
        field<&Input::pack, &PackIn::cell_resistance_ohm>(
            {"pack", "cell_resistance_ohm", "resistance of one cell", Resistance}, required, fractionOverZero,
            {0.0005, 0.005, share(0.08)},
            {"Resistance of one cell at 25 °C for currents of a second or less.", "More with age and cold.",
             "Charger's reading, or voltage step over current step on a log divided by the cells."}),
        field<&Input::pack, &PackIn::cell_resistance_B_K>(
            {"pack", "cell_resistance_B_K", "temperature coefficient of the resistance", Kelvin}, byDefault, anyNumber,
            {0, 3000, within(300)},
            {"How strongly the resistance falls with warmth (B value).",
             "2000 halves the resistance between a cold and a hot day.", "Resistance of the same cell cold and warm."}),
        field<&Input::pack, &PackIn::lead_resistance_ohm>(
            {"pack", "lead_resistance_ohm", "leads and plugs", Resistance}, byDefault, fraction,
            {0.0003, 0.002, share(0.10)},
            {"Resistance of leads and plugs up to where the voltage is measured.", "",
             "Four-wire measurement at 10 A, or 0.2 mΩ a plug and its length of wire."}),
        field<&Input::pack, &PackIn::rc_resistance_ohm>(
            {"pack", "rc_resistance_ohm", "slow resistance of the pack", Resistance}, byDefault, fraction,
            {0.001, 0.04, share(0.15)},
            {"Resistance that builds up over seconds under load, whole pack; 0 leaves the effect out.",
             "A third to all of the fast resistance.",
             "From a log: how much the voltage recovers in the seconds after a load."}),
        field<&Input::pack, &PackIn::rc_capacitance_F>(
            {"pack", "rc_capacitance_F", "slow capacitance of the pack", Capacitance},
            derived("none; needed with a slow resistance"), overZero, {200, 10000, share(0.20)},
            {"With the slow resistance it sets the time constant of that recovery.",
             "So that the time constant is 2 to 30 s.", "Time constant of the recovery over the slow resistance."}),
        tableField({"pack", "ocv", "open-circuit voltage of a cell", Voltage},
                   derived("a typical lithium-polymer cell"), notNegative,
                   {"Voltage of an unloaded, rested cell over its charge (0 to 1), rising in both.",
                    "A lithium-polymer cell: 3.27 V empty to 4.20 V full.",
                    "Discharge in steps of 10 %, rest ten minutes each, write down volts per cell."}),
        field<&Input::pack, &PackIn::charge>(
            {"pack", "charge", "charge at the start", Share}, byDefault, fraction, {0.5, 1, within(0.01)},
            {"Charge when the first pass starts, as a share of the capacity.", "Full, fresh from the charger.",
             "Resting voltage per cell against the open-circuit table."}),
    };
}

std::vector<PlanField> packLimitFields() {
    return {
        field<&Input::pack, &PackIn::continuous_c_rate>(
            {"pack", "continuous_c_rate", "continuous C rate", CRate}, requiredOrNull, notNegative,
            {20, 120, share(0.10)},
            {"Current that the pack may give all the time, over its capacity; null for a pack without a rating.",
             "Labels promise more than cells keep.", "Label, or better what heats the pack no more than 20 K."}),
        field<&Input::pack, &PackIn::burst_c_rate>(
            {"pack", "burst_c_rate", "burst C rate", CRate},
            derived("the continuous rate",
                    [](const PlanInput& i) -> std::optional<double> { return i.pack.continuous_c_rate; }),
            notNegative, {30, 200, share(0.10)},
            {"Current that the pack may give for seconds, over its capacity.",
             "One and a half to two times the continuous rate.", "Label."}),
        field<&Input::pack, &PackIn::capacity_JpK>(
            {"pack", "capacity_JpK", "heat capacity", HeatCapacity}, required, overZero, {80, 3000, share(0.05)},
            {"Heat that warms the pack by one kelvin.", "", "Mass times 1000 J/(kg K)."}),
        field<&Input::pack, &PackIn::case_air_KpW>(
            {"pack", "case_air_KpW", "thermal resistance to air", ThermalResistance}, required, thermalResistances,
            {1, 15, share(0.10)},
            {"How much hotter than the air the standing pack is per watt of heat.", "",
             "From its cool-down over half an hour."}),
        field<&Input::pack, &PackIn::cooling_coefficient>(
            {"pack", "cooling_coefficient", "cooling by speed", Number}, byDefault, notNegative, {0, 0.1, within(0.03)},
            {"How much the moving air helps: cooling grows by this times speed (m/s) to the power 0.8.",
             "None for a pack inside the body.",
             "Seldom worth measuring; passes are short against the pack's time constant."}),
        field<&Input::pack, &PackIn::comfort_C>(
            {"pack", "comfort_C", "comfortable temperature", Temperature}, byDefault, temperatures, {45, 55, within(3)},
            {"Pack temperature that you want to stay under.", "", "Common practice; the maker's advice comes first."}),
        field<&Input::pack, &PackIn::limit_C>(
            {"pack", "limit_C", "temperature limit", Temperature}, byDefault, temperatures, {55, 65, within(3)},
            {"Pack temperature that must not be passed.", "For lithium-polymer cells.", "The maker's sheet."}),
        field<&Input::pack, &PackIn::mass_kg>(
            {"pack", "mass_kg", "mass of the pack", Mass}, noneByDefault, partMasses, {0.1, 3, share(0.002)},
            {"Mass of the pack, a part of the vehicle's mass; it tells what another pack changes.", "",
             "Scales, with leads and plug."}),
    };
}

} // namespace rw
