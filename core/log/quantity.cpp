#include "core/log/quantity.h"

#include "core/units.h"

#include <array>

namespace rw {
namespace {

constexpr DisplayUnit si(std::string_view unit) { return {unit, 1.0, 0.0}; }
constexpr DisplayUnit celsius{"°C", 1.0, -zeroCelsius_K};
constexpr DisplayUnit fahrenheit{"°F", 1.8, fahrenheitFromCelsius(-zeroCelsius_K)};
constexpr DisplayUnit percent{"%", 100.0, 0.0};
constexpr DisplayUnit rpm{"rpm", rpmPerRadps, 0.0};

constexpr QuantityInfo same(Quantity quantity, std::string_view key, std::string_view name, std::string_view symbol,
                            std::string_view unit, int decimals) {
    return {quantity, key, name, symbol, unit, si(unit), si(unit), decimals};
}

constexpr QuantityInfo shown(Quantity quantity, std::string_view key, std::string_view name, std::string_view symbol,
                             std::string_view unit, DisplayUnit metric, DisplayUnit imperial, int decimals) {
    return {quantity, key, name, symbol, unit, metric, imperial, decimals};
}

using Q = Quantity;
constexpr std::array<QuantityInfo, quantityCount> table{{
    same(Q::Time, "time", "time", "t", "s", 2),
    same(Q::PackVoltage, "pack_voltage", "pack voltage", "U", "V", 2),
    same(Q::RippleVoltage, "ripple_voltage", "ripple voltage, peak to peak", "U_rip", "V", 2),
    same(Q::PackCurrent, "pack_current", "pack current", "I", "A", 1),
    same(Q::MotorCurrent, "motor_current", "motor current", "I_mot", "A", 1),
    shown(Q::Throttle, "throttle", "throttle", "thr", "", percent, percent, 1),
    shown(Q::Brake, "brake", "brake", "brk", "", percent, percent, 1),
    shown(Q::Output, "output", "controller output", "out", "", percent, percent, 1),
    shown(Q::MotorSpeed, "motor_speed", "motor speed", "n", "rad/s", rpm, rpm, 0),
    shown(Q::ControllerTemperature, "controller_temperature", "controller temperature", "T_esc", "K", celsius,
          fahrenheit, 1),
    shown(Q::MotorTemperature, "motor_temperature", "motor temperature", "T_mot", "K", celsius, fahrenheit, 1),
    shown(Q::PackTemperature, "pack_temperature", "pack temperature", "T_pack", "K", celsius, fahrenheit, 1),
    same(Q::ReceiverVoltage, "receiver_voltage", "receiver voltage", "U_rx", "V", 2),
    shown(Q::Speed, "speed", "speed over ground", "v", "m/s", {"km/h", kmhPerMps, 0.0}, {"mph", mphPerMps, 0.0}, 1),
    same(Q::Latitude, "latitude", "latitude", "lat", "deg", 6),
    same(Q::Longitude, "longitude", "longitude", "lon", "deg", 6),
    shown(Q::Elevation, "elevation", "elevation", "h", "m", si("m"), {"ft", 1.0 / (12.0 * metrePerInch), 0.0}, 1),
    same(Q::AccelerationX, "acceleration_x", "acceleration along x", "a_x", "m/s²", 2),
    same(Q::AccelerationY, "acceleration_y", "acceleration along y", "a_y", "m/s²", 2),
    same(Q::AccelerationZ, "acceleration_z", "acceleration along z", "a_z", "m/s²", 2),
    same(Q::Power, "power", "electrical power", "P", "W", 0),
    shown(Q::Charge, "charge", "charge used", "Q", "A s", {"mAh", 1000.0 / secondsPerHour, 0.0},
          {"mAh", 1000.0 / secondsPerHour, 0.0}, 0),
    same(Q::SessionMark, "session_mark", "session", "ses", "", 0),
    same(Q::EventMark, "event_mark", "event", "evt", "", 0),
}};

constexpr bool inOrder() {
    for (std::size_t i = 0; i < table.size(); ++i)
        if (static_cast<std::size_t>(table[i].quantity) != i) return false;
    return true;
}
static_assert(inOrder(), "the table follows the enumeration");

} // namespace

std::span<const QuantityInfo> quantityTable() { return table; }

const QuantityInfo& quantityInfo(Quantity quantity) { return table.at(static_cast<std::size_t>(quantity)); }

std::string_view quantityKey(Quantity quantity) { return quantityInfo(quantity).key; }

std::optional<Quantity> quantityFromKey(std::string_view key) {
    for (const QuantityInfo& info : table)
        if (info.key == key) return info.quantity;
    return std::nullopt;
}

std::span<const std::string_view> unitChoices(Quantity quantity) {
    static constexpr auto times = std::to_array<std::string_view>({"s", "ms", "µs", "cs", "min"});
    static constexpr auto voltages = std::to_array<std::string_view>({"V", "mV", "cV", "dV"});
    static constexpr auto ripples = std::to_array<std::string_view>({"V", "mV", "V rms", "mV rms"});
    static constexpr auto currents = std::to_array<std::string_view>({"A", "mA", "cA", "dA"});
    static constexpr auto shares = std::to_array<std::string_view>({"%", "fraction", "µs", "ms", "raw"});
    static constexpr auto rotations =
        std::to_array<std::string_view>({"rpm", "100 rpm", "krpm", "erpm", "rad/s", "rev/s"});
    static constexpr auto temperatures = std::to_array<std::string_view>({"°C", "d°C", "°F", "K"});
    static constexpr auto speeds = std::to_array<std::string_view>({"km/h", "m/s", "mph", "kn"});
    static constexpr auto angles = std::to_array<std::string_view>({"deg", "1e-7 deg"});
    static constexpr auto lengths = std::to_array<std::string_view>({"m", "ft"});
    static constexpr auto accelerations = std::to_array<std::string_view>({"g", "mg", "m/s²"});
    static constexpr auto powers = std::to_array<std::string_view>({"W", "kW"});
    static constexpr auto charges = std::to_array<std::string_view>({"mAh", "Ah", "As"});
    switch (quantity) {
    case Q::Time:
        return times;
    case Q::PackVoltage:
    case Q::ReceiverVoltage:
        return voltages;
    case Q::RippleVoltage:
        return ripples;
    case Q::PackCurrent:
    case Q::MotorCurrent:
        return currents;
    case Q::Throttle:
    case Q::Brake:
    case Q::Output:
        return shares;
    case Q::MotorSpeed:
        return rotations;
    case Q::ControllerTemperature:
    case Q::MotorTemperature:
    case Q::PackTemperature:
        return temperatures;
    case Q::Speed:
        return speeds;
    case Q::Latitude:
    case Q::Longitude:
        return angles;
    case Q::Elevation:
        return lengths;
    case Q::AccelerationX:
    case Q::AccelerationY:
    case Q::AccelerationZ:
        return accelerations;
    case Q::Power:
        return powers;
    case Q::Charge:
        return charges;
    case Q::SessionMark:
    case Q::EventMark:
    case Q::Count_:
        break;
    }
    return {};
}

double toDisplay(Quantity quantity, double si, UnitSystem system) {
    const DisplayUnit& unit = quantityInfo(quantity).display(system);
    return si * unit.scale + unit.offset;
}

} // namespace rw
