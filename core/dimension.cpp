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
    }
    return {};
}

} // namespace rw
