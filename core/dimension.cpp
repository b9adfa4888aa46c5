#include "core/dimension.h"

#include "core/units.h"

#include <array>
#include <optional>

namespace rw {

namespace {

constexpr double footPerMetre = 1.0 / (12.0 * metrePerInch);

struct Row {
    Dimension dimension;
    ShownUnit shown;                         // in metric units
    std::optional<std::string_view> written; // of the value itself; none: written as it is shown
};

using enum Dimension;
constexpr double perHour = 1.0 / secondsPerHour;
constexpr auto rows = std::to_array<Row>({
    {Number, {"", 1.0, 0.0, 2}, {}},
    {Share, {"%", 100.0, 0.0, 0}, ""},
    {Count, {"", 1.0, 0.0, 0}, {}},
    {Speed, {"m/s", 1.0, 0.0, 1}, {}},
    {Temperature, {"°C", 1.0, 0.0, 0}, {}},
    {Warming, {"°C", 1.0, 0.0, 0}, {}},
    {Distance, {"m", 1.0, 0.0, 0}, {}},
    {Length, {"mm", 1e3, 0.0, 1}, "m"},
    {ToothSize, {"mm", 1e3, 0.0, 3}, "m"},
    {Mass, {"kg", 1.0, 0.0, 3}, {}},
    {Time, {"s", 1.0, 0.0, 1}, {}},
    {Current, {"A", 1.0, 0.0, 0}, {}},
    {Voltage, {"V", 1.0, 0.0, 2}, {}},
    {Power, {"W", 1.0, 0.0, 0}, {}},
    {Charge, {"Ah", perHour, 0.0, 2}, {}},
    {Energy, {"Wh", perHour, 0.0, 1}, {}},
    {Force, {"N", 1.0, 0.0, 0}, {}},
    {Resistance, {"mΩ", 1e3, 0.0, 2}, "ohm"},
    {AngularSpeed, {"rad/s", 1.0, 0.0, 0}, {}},
    {Rpm, {"rpm", 1.0, 0.0, 0}, {}},
    {Pressure, {"hPa", 0.01, 0.0, 0}, "Pa"},
    {Angle, {"°", 1.0, 0.0, 0}, {}},
    {Area, {"m²", 1.0, 0.0, 4}, {}},
    {Density, {"kg/m³", 1.0, 0.0, 3}, {}},
    {Frequency, {"kHz", 1e-3, 0.0, 1}, "Hz"},
    {SampleRate, {"Hz", 1.0, 0.0, 1}, {}},
    {RpmPerVolt, {"rpm/V", 1.0, 0.0, 0}, {}},
    {Torque, {"mN·m", 1e3, 0.0, 1}, "N·m"},
    {Inertia, {"g·cm²", 1e7, 0.0, 1}, "kg·m²"},
    {HeatCapacity, {"J/K", 1.0, 0.0, 0}, {}},
    {ThermalResistance, {"K/W", 1.0, 0.0, 2}, {}},
    {Capacitance, {"F", 1.0, 0.0, 0}, {}},
    {SmallCapacitance, {"µF", 1e6, 0.0, 0}, "F"},
    {ShortTime, {"ns", 1e9, 0.0, 0}, "s"},
    {Rate, {"1/s", 1.0, 0.0, 1}, {}},
    {PerKelvin, {"%/K", 100.0, 0.0, 2}, "1/K"},
    {Kelvin, {"K", 1.0, 0.0, 0}, {}},
    {Grade, {"%", 100.0, 0.0, 1}, "m/m"},
    {WeightShare, {"% wt", 100.0, 0.0, 0}, "of weight"},
    {CRate, {"C", 1.0, 0.0, 0}, "1/h"},
    {Teeth, {"teeth", 1.0, 0.0, 0}, ""},
    {RollingGrowth, {"s²/km²", 1e6, 0.0, 1}, "s²/m²"},
    {PerSlip, {"", 1.0, 0.0, 1}, "N/N"},
});

constexpr bool inOrder() {
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (static_cast<std::size_t>(rows[i].dimension) != i) return false;
    return rows.size() == static_cast<std::size_t>(PerSlip) + 1;
}
static_assert(inOrder(), "the table follows the enumeration");

const Row& rowOf(Dimension dimension) { return rows[static_cast<std::size_t>(dimension)]; }

} // namespace

ShownUnit shownUnit(Dimension dimension, const UnitChoice& choice) {
    const bool inches = choice.length == LengthUnit::Inch;
    if (dimension == Speed && choice.speed == SpeedUnit::Kmh) return {"km/h", kmhPerMps, 0.0, 1};
    if (dimension == Speed && choice.speed == SpeedUnit::Mph) return {"mph", mphPerMps, 0.0, 1};
    if (choice.temperature == TemperatureUnit::Fahrenheit) {
        if (dimension == Temperature) return {"°F", 1.8, fahrenheitFromCelsius(0.0), 0};
        if (dimension == Warming) return {"°F", 1.8, 0.0, 0};
    }
    if (inches && dimension == Distance) return {"ft", footPerMetre, 0.0, 0};
    if (inches && dimension == Length) return {"in", 1.0 / metrePerInch, 0.0, 3};
    if (dimension == Mass && choice.mass == MassUnit::Pound) return {"lb", 1.0 / kilogramPerPound, 0.0, 2};
    return rowOf(dimension).shown;
}

ShownUnit writtenUnit(Dimension dimension) {
    const Row& row = rowOf(dimension);
    return row.written ? ShownUnit{*row.written} : row.shown;
}

ShownUnit shownFromWritten(Dimension dimension, const UnitChoice& choice) {
    ShownUnit unit = shownUnit(dimension, choice);
    unit.factor /= writtenUnit(dimension).factor;
    return unit;
}

} // namespace rw
