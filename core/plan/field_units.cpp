#include "core/plan/field_units.h"

#include <array>

namespace rw {

namespace {

struct OwnUnit {
    std::string_view key;
    std::string_view symbol;
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
    OwnUnit{"vehicle.rolling_c2_s2pm2", "s²/km²", 1e6},
    OwnUnit{"vehicle.drag_torque_Nm", "mN·m", 1e3},
};

constexpr double gramSquareCentimetre = 1e7; // g·cm² in one kg·m²

} // namespace

ShownUnit fieldUnit(const FieldInfo& field, const UnitChoice& choice) {
    const std::string key = field.key();
    for (const OwnUnit& own : ownUnits)
        if (own.key == key) return {own.symbol, own.factor};
    const std::string_view unit = field.unit;
    const bool course = field.group == "venue" || field.group == "air";
    if (unit == "m") return shownUnit(course ? Dimension::Distance : Dimension::Length, choice);
    if (unit == "kg") return shownUnit(Dimension::Mass, choice);
    if (unit == "m/s") return shownUnit(Dimension::Speed, choice);
    if (unit == "°C") return shownUnit(Dimension::Temperature, choice);
    if (unit == "Pa") return shownUnit(Dimension::Pressure, choice);
    if (unit == "ohm") return shownUnit(Dimension::Resistance, choice);
    if (unit == "kg·m²") return {"g·cm²", gramSquareCentimetre};
    if (unit == "N/N") return {};
    return {unit};
}

} // namespace rw
