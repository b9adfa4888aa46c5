#include "core/dimension.h"

#include "core/units.h"

namespace rw {

namespace {

constexpr double footPerMetre = 1.0 / (12.0 * metrePerInch);

ShownUnit speedUnit(SpeedUnit unit) {
    if (unit == SpeedUnit::Kmh) return {"km/h", kmhPerMps, 0.0, 1};
    if (unit == SpeedUnit::Mph) return {"mph", mphPerMps, 0.0, 1};
    return {"m/s", 1.0, 0.0, 1};
}

} // namespace

ShownUnit shownUnit(Dimension dimension, const UnitChoice& choice) {
    const bool metric = choice.length == LengthUnit::Metric;
    switch (dimension) {
    case Dimension::Number:
        return {"", 1.0, 0.0, 2};
    case Dimension::Share:
        return {"%", 100.0, 0.0, 0};
    case Dimension::Count:
        return {"", 1.0, 0.0, 0};
    case Dimension::Speed:
        return speedUnit(choice.speed);
    case Dimension::Temperature:
        if (choice.temperature == TemperatureUnit::Fahrenheit) return {"°F", 1.8, fahrenheitFromCelsius(0.0), 0};
        return {"°C", 1.0, 0.0, 0};
    case Dimension::Warming:
        if (choice.temperature == TemperatureUnit::Fahrenheit) return {"°F", 1.8, 0.0, 0};
        return {"°C", 1.0, 0.0, 0};
    case Dimension::Distance:
        return metric ? ShownUnit{"m", 1.0, 0.0, 0} : ShownUnit{"ft", footPerMetre, 0.0, 0};
    case Dimension::Length:
        return metric ? ShownUnit{"mm", 1000.0, 0.0, 1} : ShownUnit{"in", 1.0 / metrePerInch, 0.0, 3};
    case Dimension::Mass:
        if (choice.mass == MassUnit::Metric) return {"kg", 1.0, 0.0, 3};
        return {"lb", 1.0 / kilogramPerPound, 0.0, 2};
    case Dimension::Time:
        return {"s", 1.0, 0.0, 1};
    case Dimension::Current:
        return {"A", 1.0, 0.0, 0};
    case Dimension::Voltage:
        return {"V", 1.0, 0.0, 2};
    case Dimension::Power:
        return {"W", 1.0, 0.0, 0};
    case Dimension::Charge:
        return {"Ah", 1.0 / secondsPerHour, 0.0, 2};
    case Dimension::Energy:
        return {"Wh", 1.0 / secondsPerHour, 0.0, 1};
    case Dimension::Force:
        return {"N", 1.0, 0.0, 0};
    case Dimension::Resistance:
        return {"mΩ", 1000.0, 0.0, 2};
    case Dimension::AngularSpeed:
        return {"rad/s", 1.0, 0.0, 0};
    case Dimension::Rpm:
        return {"rpm", 1.0, 0.0, 0};
    case Dimension::Pressure:
        return {"hPa", 0.01, 0.0, 0};
    case Dimension::Angle:
        return {"°", 1.0, 0.0, 0};
    case Dimension::Area:
        return {"m²", 1.0, 0.0, 4};
    case Dimension::Density:
        return {"kg/m³", 1.0, 0.0, 3};
    case Dimension::Frequency:
        return {"kHz", 1e-3, 0.0, 1};
    case Dimension::SampleRate:
        return {"Hz", 1.0, 0.0, 1};
    case Dimension::RpmPerVolt:
        return {"rpm/V", 1.0, 0.0, 0};
    case Dimension::Torque:
        return {"mN·m", 1e3, 0.0, 1};
    case Dimension::Inertia:
        return {"g·cm²", 1e7, 0.0, 1};
    case Dimension::HeatCapacity:
        return {"J/K", 1.0, 0.0, 0};
    case Dimension::ThermalResistance:
        return {"K/W", 1.0, 0.0, 2};
    case Dimension::Capacitance:
        return {"F", 1.0, 0.0, 0};
    case Dimension::SmallCapacitance:
        return {"µF", 1e6, 0.0, 0};
    case Dimension::ShortTime:
        return {"ns", 1e9, 0.0, 0};
    case Dimension::Rate:
        return {"1/s", 1.0, 0.0, 1};
    case Dimension::PerKelvin:
        return {"%/K", 100.0, 0.0, 2};
    case Dimension::Kelvin:
        return {"K", 1.0, 0.0, 0};
    case Dimension::Grade:
        return {"%", 100.0, 0.0, 1};
    case Dimension::WeightShare:
        return {"% wt", 100.0, 0.0, 0};
    case Dimension::CRate:
        return {"C", 1.0, 0.0, 0};
    case Dimension::Teeth:
        return {"teeth", 1.0, 0.0, 0};
    case Dimension::RollingGrowth:
        return {"s²/km²", 1e6, 0.0, 1};
    case Dimension::PerSlip:
        return {"", 1.0, 0.0, 1};
    }
    return {};
}

ShownUnit writtenUnit(Dimension dimension) {
    switch (dimension) { // those that are not written as they are shown in standard units
    case Dimension::Share:
    case Dimension::Teeth:
        return {"", 1.0};
    case Dimension::Length:
        return {"m", 1.0};
    case Dimension::Pressure:
        return {"Pa", 1.0};
    case Dimension::Resistance:
        return {"ohm", 1.0};
    case Dimension::Frequency:
        return {"Hz", 1.0};
    case Dimension::Torque:
        return {"N·m", 1.0};
    case Dimension::Inertia:
        return {"kg·m²", 1.0};
    case Dimension::SmallCapacitance:
        return {"F", 1.0};
    case Dimension::ShortTime:
        return {"s", 1.0};
    case Dimension::PerKelvin:
        return {"1/K", 1.0};
    case Dimension::Grade:
        return {"m/m", 1.0};
    case Dimension::WeightShare:
        return {"of weight", 1.0};
    case Dimension::CRate:
        return {"1/h", 1.0};
    case Dimension::RollingGrowth:
        return {"s²/m²", 1.0};
    case Dimension::PerSlip:
        return {"N/N", 1.0};
    default:
        return shownUnit(dimension, {.speed = SpeedUnit::Mps});
    }
}

ShownUnit shownFromWritten(Dimension dimension, const UnitChoice& choice) {
    ShownUnit unit = shownUnit(dimension, choice);
    unit.factor /= writtenUnit(dimension).factor;
    return unit;
}

} // namespace rw
