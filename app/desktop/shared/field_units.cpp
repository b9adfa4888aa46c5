// The display unit of each field: the key's unit, told apart where size or habit asks for another.
#include "app/desktop/shared/field_view.h"

#include <array>
#include <string_view>

namespace rw {

namespace {

struct OwnUnit {
    std::string_view key;
    const char* symbol;
    double factor;
};

// Fields whose everyday unit is not that of their dimension.
constexpr std::array ownUnits{
    OwnUnit{"air.relative_humidity", "%", 100.0},
    OwnUnit{"venue.grade", "%", 100.0},
    OwnUnit{"vehicle.driveline_efficiency", "%", 100.0},
    OwnUnit{"tyre.growth", "%", 100.0},
    OwnUnit{"motor.iron_loss_to_winding", "%", 100.0},
    OwnUnit{"motor.magnet_coefficient_per_K", "%/K", 100.0},
    OwnUnit{"controller.endpoint", "%", 100.0},
    OwnUnit{"controller.switch_time_s", "ns", 1e9},
    OwnUnit{"controller.input_capacitance_F", "µF", 1e6},
    OwnUnit{"controller.pwm_Hz", "kHz", 1e-3},
    OwnUnit{"pack.charge", "%", 100.0},
    OwnUnit{"pack.continuous_c_rate", "C", 1.0},
    OwnUnit{"pack.burst_c_rate", "C", 1.0},
    OwnUnit{"drive.brake_weight_fraction", "% wt", 100.0},
    OwnUnit{"drive.brake_heat_fraction", "%", 100.0},
    OwnUnit{"gears.pinion_teeth", "teeth", 1.0},
    OwnUnit{"gears.spur_teeth", "teeth", 1.0},
    OwnUnit{"gears.pinions", "teeth", 1.0},
    OwnUnit{"gears.spurs", "teeth", 1.0},
    OwnUnit{"vehicle.drag_torque_Nm", "mN·m", 1e3},
};

constexpr double gramSquareCentimetre = 1e7; // g·cm² in one kg·m²

} // namespace

UnitView fieldUnit(const PlanField& field, const Units& units) {
    const std::string key = field.key();
    for (const OwnUnit& own : ownUnits)
        if (own.key == key) return {QString::fromUtf8(own.symbol), own.factor, 0.0, 0};
    const std::string_view unit = field.unit;
    if (unit == "m")
        return units.of(field.group == "venue" || field.group == "air" ? Dimension::Distance : Dimension::Length);
    if (unit == "kg") return units.of(Dimension::Mass);
    if (unit == "m/s") return units.of(Dimension::Speed);
    if (unit == "°C") return units.of(Dimension::Temperature);
    if (unit == "Pa") return units.of(Dimension::Pressure);
    if (unit == "ohm") return units.of(Dimension::Resistance);
    if (unit == "kg·m²") return {QStringLiteral("g·cm²"), gramSquareCentimetre, 0.0, 0};
    if (unit == "N/N") return {};
    return {QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size())), 1.0, 0.0, 0};
}

} // namespace rw
