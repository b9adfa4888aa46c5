#include "app/desktop/shared/units.h"

#include "core/units.h"
#include "plotting/look.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rw {

namespace {

constexpr QChar noBreakSpace{u'\u00a0'};
constexpr double poundPerKilogram = 1.0 / kilogramPerPound;
constexpr double footPerMetre = 1.0 / (12.0 * metrePerInch);

UnitView speedView(SpeedUnit unit) {
    switch (unit) {
    case SpeedUnit::Kmh:
        return {QStringLiteral("km/h"), kmhPerMps, 0.0, 1};
    case SpeedUnit::Mph:
        return {QStringLiteral("mph"), mphPerMps, 0.0, 1};
    case SpeedUnit::Mps:
        break;
    }
    return {QStringLiteral("m/s"), 1.0, 0.0, 1};
}

} // namespace

void Units::setSpeed(SpeedUnit unit) {
    if (std::exchange(speed_, unit) != unit) emit changed();
}

void Units::setTemperature(TemperatureUnit unit) {
    if (std::exchange(temperature_, unit) != unit) emit changed();
}

void Units::setLength(LengthUnit unit) {
    if (std::exchange(length_, unit) != unit) emit changed();
}

void Units::setMass(MassUnit unit) {
    if (std::exchange(mass_, unit) != unit) emit changed();
}

UnitView Units::of(Dimension dimension) const {
    const bool metric = length_ == LengthUnit::Metric;
    switch (dimension) {
    case Dimension::Number:
        return {QString(), 1.0, 0.0, 2};
    case Dimension::Share:
        return {QStringLiteral("%"), 100.0, 0.0, 0};
    case Dimension::Count:
        return {QString(), 1.0, 0.0, 0};
    case Dimension::Speed:
        return speedView(speed_);
    case Dimension::Temperature:
        if (temperature_ == TemperatureUnit::Fahrenheit) return {QStringLiteral("°F"), 1.8, 32.0, 0};
        return {QStringLiteral("°C"), 1.0, 0.0, 0};
    case Dimension::Distance:
        if (metric) return {QStringLiteral("m"), 1.0, 0.0, 0};
        return {QStringLiteral("ft"), footPerMetre, 0.0, 0};
    case Dimension::Length:
        if (metric) return {QStringLiteral("mm"), 1000.0, 0.0, 1};
        return {QStringLiteral("in"), 1.0 / metrePerInch, 0.0, 3};
    case Dimension::Mass:
        if (mass_ == MassUnit::Metric) return {QStringLiteral("kg"), 1.0, 0.0, 3};
        return {QStringLiteral("lb"), poundPerKilogram, 0.0, 2};
    case Dimension::Time:
        return {QStringLiteral("s"), 1.0, 0.0, 1};
    case Dimension::Current:
        return {QStringLiteral("A"), 1.0, 0.0, 0};
    case Dimension::Voltage:
        return {QStringLiteral("V"), 1.0, 0.0, 2};
    case Dimension::Power:
        return {QStringLiteral("W"), 1.0, 0.0, 0};
    case Dimension::Charge:
        return {QStringLiteral("Ah"), 1.0 / secondsPerHour, 0.0, 2};
    case Dimension::Energy:
        return {QStringLiteral("Wh"), 1.0 / secondsPerHour, 0.0, 1};
    case Dimension::Force:
        return {QStringLiteral("N"), 1.0, 0.0, 0};
    case Dimension::Resistance:
        return {QStringLiteral("mΩ"), 1000.0, 0.0, 2};
    case Dimension::AngularSpeed:
        return {QStringLiteral("rad/s"), 1.0, 0.0, 0};
    case Dimension::Rpm:
        return {QStringLiteral("rpm"), 1.0, 0.0, 0};
    case Dimension::Pressure:
        return {QStringLiteral("hPa"), 0.01, 0.0, 0};
    case Dimension::Angle:
        return {QStringLiteral("°"), 1.0, 0.0, 0};
    case Dimension::Area:
        return {QStringLiteral("m²"), 1.0, 0.0, 4};
    case Dimension::Density:
        return {QStringLiteral("kg/m³"), 1.0, 0.0, 3};
    }
    return {};
}

QString Units::figure(Dimension dimension, std::optional<double> value, int decimals) const {
    if (!value || !std::isfinite(*value)) return QStringLiteral("–");
    const UnitView view = of(dimension);
    return rw::figure(view.shown(*value), decimals < 0 ? view.decimals : decimals);
}

QString Units::text(Dimension dimension, std::optional<double> value, int decimals) const {
    const QString symbol = of(dimension).symbol;
    const QString digits = figure(dimension, value, decimals);
    return symbol.isEmpty() || !value ? digits : digits + noBreakSpace + symbol;
}

std::shared_ptr<const Units> Units::copy() const {
    auto copied = std::make_shared<Units>();
    copied->speed_ = speed_;
    copied->temperature_ = temperature_;
    copied->length_ = length_;
    copied->mass_ = mass_;
    return copied;
}

QString significantText(double value, int digits) {
    if (value == 0.0) return QStringLiteral("0");
    const int magnitude = static_cast<int>(std::floor(std::log10(std::abs(value))));
    return rw::figure(value, std::max(0, digits - 1 - magnitude));
}

} // namespace rw
