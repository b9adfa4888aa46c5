// Kinds of value that a person reads and the units in which they are shown: one table for command line, window and
// pages. Values are SI inside, except Temperature, which is °C everywhere in the plan, and Rpm.
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
    Warming,  // a difference of temperatures
    Distance, // the strip
    Length,   // parts
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
    Density
};

struct ShownUnit { // shown = value * factor + offset
    std::string_view symbol;
    double factor = 1.0, offset = 0.0;
    int decimals = 0;
    [[nodiscard]] constexpr double shown(double value) const { return value * factor + offset; }
};

[[nodiscard]] ShownUnit shownUnit(Dimension dimension, const UnitChoice& choice = {});

} // namespace rw
