// The figures of a pass by key: one table for JSON, tables and the garage.
#include "core/review/review.h"
#include "core/units.h"

#include <algorithm>
#include <array>

namespace rw {

namespace {

using Value = std::optional<double>;
using enum Dimension;

Value scaled(Value value, double factor) { return value ? Value(*value * factor) : std::nullopt; }
Value celsius(Value kelvin) { return kelvin ? Value(celsiusFromKelvin(*kelvin)) : std::nullopt; }
constexpr double perHour = 1.0 / secondsPerHour;

constexpr auto figures = std::to_array<PassFigure>({
    {"start_s", "start", Time, 2, [](const ReviewPass& p) -> Value { return p.start; }},
    {"end_s", "end", Time, 2, [](const ReviewPass& p) -> Value { return p.end; }},
    {"rate_Hz", "rate", SampleRate, 1, [](const ReviewPass& p) -> Value { return p.rate; }},
    {"throttle_rise_s", "throttle rise", Time, 2, [](const ReviewPass& p) { return p.throttleRise; }},
    {"output_rise_s", "output rise", Time, 2, [](const ReviewPass& p) { return p.outputRise; }},
    {"output_max", "largest output", Share, 3, [](const ReviewPass& p) { return p.outputMax; }},
    {"full_output_s", "at full output", Time, 2, [](const ReviewPass& p) { return p.fullOutput; }},
    {"resting_V", "resting voltage", Voltage, 2, [](const ReviewPass& p) { return p.restingVoltage; }},
    {"min_V", "lowest voltage", Voltage, 2, [](const ReviewPass& p) { return p.minVoltage; }, true,
     "lowest pack voltage"},
    {"min_cell_V", "lowest per cell", Voltage, 2, [](const ReviewPass& p) { return p.minCellVoltage; }},
    {"sag_V", "sag", Voltage, 2, [](const ReviewPass& p) { return p.sag; }},
    {"peak_A", "peak current", Current, 1, [](const ReviewPass& p) { return p.peakCurrent; }, true,
     "peak pack current"},
    {"mean_A", "mean current", Current, 1, [](const ReviewPass& p) { return p.meanCurrent; }},
    {"motor_peak_A", "peak motor current", Current, 1, [](const ReviewPass& p) { return p.motorPeakCurrent; }},
    {"peak_W", "peak power", Power, 0, [](const ReviewPass& p) { return p.peakPower; }},
    {"charge_Ah", "charge", Charge, 3, [](const ReviewPass& p) { return scaled(p.charge, perHour); }},
    {"charge_back_Ah", "charge back", Charge, 4, [](const ReviewPass& p) { return scaled(p.chargeBack, perHour); }},
    {"energy_Wh", "energy", Energy, 2, [](const ReviewPass& p) { return scaled(p.energy, perHour); }},
    {"ripple_peak_V", "peak ripple", Voltage, 2, [](const ReviewPass& p) { return p.ripplePeak; }},
    {"ripple_share", "ripple of voltage", Share, 3, [](const ReviewPass& p) { return p.rippleShare; }},
    {"motor_peak_rpm", "peak motor speed", Rpm, 0,
     [](const ReviewPass& p) { return scaled(p.motorPeakSpeed, rpmPerRadps); }},
    {"wheel_peak_mps", "peak wheel speed", Speed, 2, [](const ReviewPass& p) { return p.wheelPeak; }},
    {"wheel_peak_free_mps", "peak wheel speed, unloaded too", Speed, 2,
     [](const ReviewPass& p) { return p.wheelPeakFree; }},
    {"speed_peak_mps", "measured peak speed", Speed, 2, [](const ReviewPass& p) { return p.speedPeak; }},
    {"zone_speed_mps", "zone speed", Speed, 2, [](const ReviewPass& p) { return p.zoneSpeed; }},
    {"distance_m", "distance", Distance, 1, [](const ReviewPass& p) { return p.distance; }},
    {"motor_start_C", "motor at the start", Temperature, 1, [](const ReviewPass& p) { return celsius(p.motor.start); }},
    {"motor_max_C", "motor, largest", Temperature, 1, [](const ReviewPass& p) { return celsius(p.motor.max); }},
    {"motor_end_C", "motor at the end", Temperature, 1, [](const ReviewPass& p) { return celsius(p.motor.end); }},
    {"motor_rise_C", "motor rise", Warming, 1, [](const ReviewPass& p) { return p.motor.rise; }},
    {"motor_soak_C", "motor soak", Temperature, 1, [](const ReviewPass& p) { return celsius(p.motor.soak); }, true,
     "hottest motor case"},
    {"motor_soak_after_s", "motor soak after", Time, 1, [](const ReviewPass& p) { return p.motor.soakAfter; }},
    {"motor_soak_predicted_C", "motor soak, predicted", Temperature, 1,
     [](const ReviewPass& p) { return celsius(p.motor.soakPredicted); }},
    {"controller_start_C", "controller at the start", Temperature, 1,
     [](const ReviewPass& p) { return celsius(p.controller.start); }},
    {"controller_max_C", "controller, largest", Temperature, 1,
     [](const ReviewPass& p) { return celsius(p.controller.max); }},
    {"controller_end_C", "controller at the end", Temperature, 1,
     [](const ReviewPass& p) { return celsius(p.controller.end); }},
    {"controller_rise_C", "controller rise", Warming, 1, [](const ReviewPass& p) { return p.controller.rise; }},
    {"controller_soak_C", "controller soak", Temperature, 1,
     [](const ReviewPass& p) { return celsius(p.controller.soak); }},
    {"controller_soak_after_s", "controller soak after", Time, 1,
     [](const ReviewPass& p) { return p.controller.soakAfter; }},
    {"pack_start_C", "pack at the start", Temperature, 1, [](const ReviewPass& p) { return celsius(p.pack.start); }},
    {"pack_max_C", "pack, largest", Temperature, 1, [](const ReviewPass& p) { return celsius(p.pack.max); }},
    {"receiver_min_V", "receiver, lowest", Voltage, 2, [](const ReviewPass& p) { return p.receiverMin; }},
    {"pack_ohm", "pack resistance", Resistance, 4, [](const ReviewPass& p) { return p.packResistance; }},
    {"pack_ohm_se", "its standard error", Resistance, 5, [](const ReviewPass& p) { return p.packResistanceError; }},
    {"rpm_per_volt", "rpm per volt", RpmPerVolt, 0, [](const ReviewPass& p) { return p.rpmPerVolt; }},
    {"full_output_A", "current at full output", Current, 1, [](const ReviewPass& p) { return p.fullOutputCurrent; },
     false},
    {"gap_s", "missing time", Time, 2, [](const ReviewPass& p) -> Value { return p.gap; }},
});

} // namespace

std::span<const PassFigure> passFigures() { return figures; }

const PassFigure* findPassFigure(std::string_view key) {
    const auto found = std::ranges::find(figures, key, &PassFigure::key);
    return found == figures.end() ? nullptr : &*found;
}

std::optional<double> bestSpeed(const ReviewPass& pass) {
    if (pass.zoneSpeed) return pass.zoneSpeed;
    return pass.speedPeak ? pass.speedPeak : pass.wheelPeak;
}

std::optional<double> hottest(const ReviewPass::Temperature& part) {
    return std::max({part.max, part.soak, part.soakPredicted});
}

} // namespace rw
