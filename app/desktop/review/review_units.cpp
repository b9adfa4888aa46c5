#include "app/desktop/review/review_units.h"

#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

UnitView kelvinView(const Units& units) {
    UnitView view = units.of(Dimension::Temperature); // from °C
    view.offset -= zeroCelsius_K * view.factor;
    view.decimals = 1;
    return view;
}

Hue hueOf(Quantity quantity) {
    switch (quantity) {
    case Quantity::Speed:
    case Quantity::MotorSpeed:
    case Quantity::AccelerationX:
        return Hue::Speed;
    case Quantity::Throttle:
    case Quantity::Output:
    case Quantity::Brake:
        return Hue::Output;
    case Quantity::PackVoltage:
    case Quantity::RippleVoltage:
    case Quantity::ReceiverVoltage:
        return Hue::Voltage;
    case Quantity::PackCurrent:
    case Quantity::MotorCurrent:
    case Quantity::Charge:
        return Hue::Current;
    case Quantity::MotorTemperature:
        return Hue::MotorHeat;
    case Quantity::ControllerTemperature:
        return Hue::ControllerHeat;
    case Quantity::PackTemperature:
        return Hue::PackHeat;
    default:
        return Hue::Power;
    }
}

// Short names of lanes; the unit beside them tells volts from degrees.
QString briefOf(Quantity quantity, const QString& name) {
    switch (quantity) {
    case Quantity::Speed:
        return QStringLiteral("speed");
    case Quantity::Output:
        return QStringLiteral("output");
    case Quantity::PackVoltage:
    case Quantity::PackTemperature:
        return QStringLiteral("pack");
    case Quantity::RippleVoltage:
        return QStringLiteral("ripple");
    case Quantity::PackCurrent:
        return QStringLiteral("current");
    case Quantity::MotorTemperature:
        return QStringLiteral("motor");
    case Quantity::ControllerTemperature:
        return QStringLiteral("controller");
    case Quantity::ReceiverVoltage:
        return QStringLiteral("receiver");
    default:
        return name;
    }
}

bool isTemperature(Quantity quantity) { return quantityInfo(quantity).siUnit == "K"; }

} // namespace

QuantityView viewOf(Quantity quantity, const Units& units) {
    const QuantityInfo& info = quantityInfo(quantity);
    QuantityView view;
    const std::string_view name = info.name.substr(0, info.name.find(','));
    view.name = QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size()));
    view.brief = briefOf(quantity, view.name);
    view.hue = hueOf(quantity);
    view.fromZero = !isTemperature(quantity) && quantity != Quantity::PackVoltage &&
                    quantity != Quantity::ReceiverVoltage && quantity != Quantity::Elevation;
    if (quantity == Quantity::Speed) {
        view.unit = units.of(Dimension::Speed);
    } else if (isTemperature(quantity)) {
        view.unit = kelvinView(units);
    } else if (quantity == Quantity::Elevation) {
        view.unit = units.of(Dimension::Distance);
    } else {
        const DisplayUnit& shown = info.metric;
        view.unit = {QString::fromUtf8(shown.unit.data(), static_cast<qsizetype>(shown.unit.size())), shown.scale,
                     shown.offset, info.decimals};
    }
    return view;
}

UnitView figureView(const PassFigure& figure, const Units& units) {
    UnitView view = viewOf(shownFromWritten(figure.dimension, units.choice()));
    // A unit that is larger in numbers (km/h for m/s, mΩ for ohm) needs fewer decimals.
    constexpr double early = 0.2;
    view.decimals = std::max(0, figure.decimals - static_cast<int>(std::lround(std::log10(view.factor) + early)));
    return view;
}

} // namespace rw
