// The figures of a pass by key: one table for JSON, tables and the garage.
#include "core/review/review.h"
#include "core/units.h"

#include <array>

namespace rw {

namespace {

using Value = std::optional<double>;

Value scaled(Value value, double factor) { return value ? Value(*value * factor) : std::nullopt; }
Value celsius(Value kelvin) { return kelvin ? Value(celsiusFromKelvin(*kelvin)) : std::nullopt; }
constexpr double perHour = 1.0 / secondsPerHour;

constexpr auto figures = std::to_array<PassFigure>({
    {"start_s", "start", "s", 2, [](const ReviewPass& p) -> Value { return p.start; }},
    {"end_s", "end", "s", 2, [](const ReviewPass& p) -> Value { return p.end; }},
    {"rate_Hz", "rate", "Hz", 1, [](const ReviewPass& p) -> Value { return p.rate; }},
    {"throttle_rise_s", "throttle rise", "s", 2, [](const ReviewPass& p) { return p.throttleRise; }},
    {"output_rise_s", "output rise", "s", 2, [](const ReviewPass& p) { return p.outputRise; }},
    {"output_max", "largest output", "", 3, [](const ReviewPass& p) { return p.outputMax; }},
    {"full_output_s", "at full output", "s", 2, [](const ReviewPass& p) { return p.fullOutput; }},
    {"resting_V", "resting voltage", "V", 2, [](const ReviewPass& p) { return p.restingVoltage; }},
    {"min_V", "lowest voltage", "V", 2, [](const ReviewPass& p) { return p.minVoltage; }},
    {"min_cell_V", "lowest per cell", "V", 2, [](const ReviewPass& p) { return p.minCellVoltage; }},
    {"sag_V", "sag", "V", 2, [](const ReviewPass& p) { return p.sag; }},
    {"peak_A", "peak current", "A", 1, [](const ReviewPass& p) { return p.peakCurrent; }},
    {"mean_A", "mean current", "A", 1, [](const ReviewPass& p) { return p.meanCurrent; }},
    {"motor_peak_A", "peak motor current", "A", 1, [](const ReviewPass& p) { return p.motorPeakCurrent; }},
    {"peak_W", "peak power", "W", 0, [](const ReviewPass& p) { return p.peakPower; }},
    {"charge_Ah", "charge", "Ah", 3, [](const ReviewPass& p) { return scaled(p.charge, perHour); }},
    {"charge_back_Ah", "charge back", "Ah", 4, [](const ReviewPass& p) { return scaled(p.chargeBack, perHour); }},
    {"energy_Wh", "energy", "Wh", 2, [](const ReviewPass& p) { return scaled(p.energy, perHour); }},
    {"ripple_peak_V", "peak ripple", "V", 2, [](const ReviewPass& p) { return p.ripplePeak; }},
    {"ripple_share", "ripple of voltage", "", 3, [](const ReviewPass& p) { return p.rippleShare; }},
    {"motor_peak_rpm", "peak motor speed", "rpm", 0,
     [](const ReviewPass& p) { return scaled(p.motorPeakSpeed, rpmPerRadps); }},
    {"wheel_peak_mps", "peak wheel speed", "m/s", 2, [](const ReviewPass& p) { return p.wheelPeak; }},
    {"wheel_peak_free_mps", "peak wheel speed, unloaded too", "m/s", 2,
     [](const ReviewPass& p) { return p.wheelPeakFree; }},
    {"speed_peak_mps", "measured peak speed", "m/s", 2, [](const ReviewPass& p) { return p.speedPeak; }},
    {"zone_speed_mps", "zone speed", "m/s", 2, [](const ReviewPass& p) { return p.zoneSpeed; }},
    {"distance_m", "distance", "m", 1, [](const ReviewPass& p) { return p.distance; }},
    {"motor_start_C", "motor at the start", "°C", 1, [](const ReviewPass& p) { return celsius(p.motor.start); }},
    {"motor_max_C", "motor, largest", "°C", 1, [](const ReviewPass& p) { return celsius(p.motor.max); }},
    {"motor_end_C", "motor at the end", "°C", 1, [](const ReviewPass& p) { return celsius(p.motor.end); }},
    {"motor_rise_C", "motor rise", "°C", 1, [](const ReviewPass& p) { return p.motor.rise; }},
    {"motor_soak_C", "motor soak", "°C", 1, [](const ReviewPass& p) { return celsius(p.motor.soak); }},
    {"motor_soak_after_s", "motor soak after", "s", 1, [](const ReviewPass& p) { return p.motor.soakAfter; }},
    {"motor_soak_predicted_C", "motor soak, predicted", "°C", 1,
     [](const ReviewPass& p) { return celsius(p.motor.soakPredicted); }},
    {"controller_start_C", "controller at the start", "°C", 1,
     [](const ReviewPass& p) { return celsius(p.controller.start); }},
    {"controller_max_C", "controller, largest", "°C", 1, [](const ReviewPass& p) { return celsius(p.controller.max); }},
    {"controller_end_C", "controller at the end", "°C", 1,
     [](const ReviewPass& p) { return celsius(p.controller.end); }},
    {"controller_rise_C", "controller rise", "°C", 1, [](const ReviewPass& p) { return p.controller.rise; }},
    {"controller_soak_C", "controller soak", "°C", 1, [](const ReviewPass& p) { return celsius(p.controller.soak); }},
    {"controller_soak_after_s", "controller soak after", "s", 1,
     [](const ReviewPass& p) { return p.controller.soakAfter; }},
    {"pack_start_C", "pack at the start", "°C", 1, [](const ReviewPass& p) { return celsius(p.pack.start); }},
    {"pack_max_C", "pack, largest", "°C", 1, [](const ReviewPass& p) { return celsius(p.pack.max); }},
    {"receiver_min_V", "receiver, lowest", "V", 2, [](const ReviewPass& p) { return p.receiverMin; }},
    {"pack_ohm", "pack resistance", "ohm", 4, [](const ReviewPass& p) { return p.packResistance; }},
    {"pack_ohm_se", "its standard error", "ohm", 5, [](const ReviewPass& p) { return p.packResistanceError; }},
    {"rpm_per_volt", "rpm per volt", "rpm/V", 0, [](const ReviewPass& p) { return p.rpmPerVolt; }},
    {"full_output_A", "current at full output", "A", 1, [](const ReviewPass& p) { return p.fullOutputCurrent; }, false},
    {"gap_s", "missing time", "s", 2, [](const ReviewPass& p) -> Value { return p.gap; }},
});

} // namespace

std::span<const PassFigure> passFigures() { return figures; }

} // namespace rw
