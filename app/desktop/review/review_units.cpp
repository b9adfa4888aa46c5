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

// The colour of a quantity and its short name in a lane ("" the long one): the unit beside it tells volts from degrees.
struct LaneLook {
    Quantity quantity;
    Hue hue;
    const char* brief = "";
};
constexpr LaneLook laneLooks[] = {
    {Quantity::Speed, Hue::Speed, "speed"},
    {Quantity::MotorSpeed, Hue::Speed},
    {Quantity::AccelerationX, Hue::Speed},
    {Quantity::Throttle, Hue::Output},
    {Quantity::Output, Hue::Output, "output"},
    {Quantity::Brake, Hue::Output},
    {Quantity::PackVoltage, Hue::Voltage, "pack"},
    {Quantity::RippleVoltage, Hue::Voltage, "ripple"},
    {Quantity::ReceiverVoltage, Hue::Voltage, "receiver"},
    {Quantity::PackCurrent, Hue::Current, "current"},
    {Quantity::MotorCurrent, Hue::Current},
    {Quantity::Charge, Hue::Current},
    {Quantity::MotorTemperature, Hue::MotorHeat, "motor"},
    {Quantity::ControllerTemperature, Hue::ControllerHeat, "controller"},
    {Quantity::PackTemperature, Hue::PackHeat, "pack"},
};

bool isTemperature(Quantity quantity) { return quantityInfo(quantity).siUnit == "K"; }

} // namespace

QuantityView viewOf(Quantity quantity, const Units& units) {
    const QuantityInfo& info = quantityInfo(quantity);
    QuantityView view;
    const std::string_view name = info.name.substr(0, info.name.find(','));
    view.name = QString::fromUtf8(name);
    view.brief = view.name;
    if (const auto* look = std::ranges::find(laneLooks, quantity, &LaneLook::quantity); look != std::end(laneLooks)) {
        view.hue = look->hue;
        if (*look->brief != '\0') view.brief = QLatin1String(look->brief);
    }
    view.fromZero = !isTemperature(quantity) && quantity != Quantity::PackVoltage &&
                    quantity != Quantity::ReceiverVoltage && quantity != Quantity::Elevation;
    if (quantity == Quantity::Speed) {
        view.unit = units.of(Dimension::Speed);
    } else if (isTemperature(quantity)) {
        view.unit = kelvinView(units);
    } else if (quantity == Quantity::Elevation) {
        view.unit = units.of(Dimension::Distance);
    } else {
        const DisplayUnit& shown = info.display;
        view.unit = {QString::fromUtf8(shown.unit), shown.scale, shown.offset, info.decimals};
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
