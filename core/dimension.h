// Kinds of value that a person reads, the unit in which documents and the command line write each, and the units in
// which it is shown: one table for fields, figures, limits, command line, window and pages. Values are SI inside,
// except Temperature, which is °C everywhere in the plan, and Rpm.
#pragma once

#include <cstdint>
#include <string_view>

namespace rw {

enum class SpeedUnit : std::uint8_t { Kmh, Mph, Mps };
enum class TemperatureUnit : std::uint8_t { Celsius, Fahrenheit };
enum class LengthUnit : std::uint8_t { Metric, Inch }; // small lengths mm or in, the strip m or ft
enum class MassUnit : std::uint8_t { Metric, Pound };  // kg or lb

struct UnitChoice {
    SpeedUnit speed = SpeedUnit::Kmh;
    TemperatureUnit temperature = TemperatureUnit::Celsius;
    LengthUnit length = LengthUnit::Metric;
    MassUnit mass = MassUnit::Metric;
    bool operator==(const UnitChoice&) const = default;
};

enum class Dimension : std::uint8_t {
    Number,
    Share, // 0..1 shown as %
    Count,
    Speed,
    Temperature,
    Warming,   // a difference of temperatures
    Distance,  // the strip
    Length,    // parts
    ToothSize, // the module of gears: mm for everybody, as it is stamped
    Mass,
    Time,
    Current,
    Voltage,
    Power,
    Charge, // A·s shown as Ah
    Energy, // J shown as Wh
    Force,
    Resistance,
    AngularSpeed,
    Rpm,
    Pressure,
    Angle,
    Area,
    Density,
    Frequency,  // shown as kHz
    SampleRate, // samples a second, shown as they are
    RpmPerVolt,
    Torque,  // shown as mN·m
    Inertia, // shown as g·cm²
    HeatCapacity,
    ThermalResistance,
    Capacitance,
    SmallCapacitance, // shown as µF
    ShortTime,        // shown as ns
    Rate,             // 1/s
    PerKelvin,        // shown as %/K
    Kelvin,           // a constant of a material, never switched
    Grade,            // rise over run, shown as %
    WeightShare,      // of the weight, shown as %
    CRate,            // current over capacity
    Teeth,
    RollingGrowth, // of the rolling resistance with speed squared
    PerSlip        // force over load for a unit of slip
};

struct ShownUnit { // shown = value * factor + offset
    std::string_view symbol;
    double factor = 1.0, offset = 0.0;
    int decimals = 0;
    [[nodiscard]] constexpr double shown(double value) const { return value * factor + offset; }
};

[[nodiscard]] ShownUnit shownUnit(Dimension dimension, const UnitChoice& choice = {});
// The unit of keys, JSON and tables of the command line: written = value * factor. "m/s", "Ah", "ohm"; "" for a share.
[[nodiscard]] ShownUnit writtenUnit(Dimension dimension);
// From a written value: shown = written * factor + offset.
[[nodiscard]] ShownUnit shownFromWritten(Dimension dimension, const UnitChoice& choice);

} // namespace rw
