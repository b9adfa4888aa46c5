#include "core/log/quantity.h"

#include "core/units.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace rw {
namespace {

constexpr DisplayUnit celsius{"°C", 1.0, -zeroCelsius_K};
constexpr DisplayUnit percent{"%", 100.0, 0.0};
constexpr DisplayUnit rpm{"rpm", rpmPerRadps, 0.0};

constexpr QuantityInfo same(Quantity quantity, std::string_view key, std::string_view name, std::string_view symbol,
                            std::string_view unit, int decimals) {
    return {quantity, key, name, symbol, unit, {unit, 1.0, 0.0}, decimals};
}

using Q = Quantity;
constexpr std::array<QuantityInfo, quantityCount> table{{
    same(Q::Time, "time", "time", "t", "s", 2),
    same(Q::PackVoltage, "pack_voltage", "pack voltage", "U", "V", 2),
    same(Q::RippleVoltage, "ripple_voltage", "ripple voltage, peak to peak", "U_rip", "V", 2),
    same(Q::PackCurrent, "pack_current", "pack current", "I", "A", 1),
    same(Q::MotorCurrent, "motor_current", "motor current", "I_mot", "A", 1),
    {Q::Throttle, "throttle", "throttle", "thr", "", percent, 1},
    {Q::Brake, "brake", "brake", "brk", "", percent, 1},
    {Q::Output, "output", "controller output", "out", "", percent, 1},
    {Q::MotorSpeed, "motor_speed", "motor speed", "n", "rad/s", rpm, 0},
    {Q::ControllerTemperature, "controller_temperature", "controller temperature", "T_esc", "K", celsius, 1},
    {Q::MotorTemperature, "motor_temperature", "motor temperature", "T_mot", "K", celsius, 1},
    {Q::PackTemperature, "pack_temperature", "pack temperature", "T_pack", "K", celsius, 1},
    same(Q::ReceiverVoltage, "receiver_voltage", "receiver voltage", "U_rx", "V", 2),
    {Q::Speed, "speed", "speed over ground", "v", "m/s", {"km/h", kmhPerMps, 0.0}, 1},
    same(Q::Latitude, "latitude", "latitude", "lat", "deg", 6),
    same(Q::Longitude, "longitude", "longitude", "lon", "deg", 6),
    same(Q::Elevation, "elevation", "elevation", "h", "m", 1),
    same(Q::AccelerationX, "acceleration_x", "acceleration along x", "a_x", "m/s²", 2),
    same(Q::AccelerationY, "acceleration_y", "acceleration along y", "a_y", "m/s²", 2),
    same(Q::AccelerationZ, "acceleration_z", "acceleration along z", "a_z", "m/s²", 2),
    same(Q::Power, "power", "electrical power", "P", "W", 0),
    {Q::Charge, "charge", "charge used", "Q", "A s", {"mAh", 1000.0 / secondsPerHour, 0.0}, 0},
    same(Q::SessionMark, "session_mark", "session", "ses", "", 0),
    same(Q::EventMark, "event_mark", "event", "evt", "", 0),
}};

constexpr auto times = std::to_array<std::string_view>({"s", "ms", "µs", "cs", "min"});
constexpr auto voltages = std::to_array<std::string_view>({"V", "mV", "cV", "dV"});
constexpr auto currents = std::to_array<std::string_view>({"A", "mA", "cA", "dA"});
constexpr auto shares = std::to_array<std::string_view>({"%", "fraction", "µs", "ms", "raw"});
constexpr auto rotations = std::to_array<std::string_view>({"rpm", "100 rpm", "krpm", "erpm", "rad/s", "rev/s"});
constexpr auto temperatures = std::to_array<std::string_view>({"°C", "d°C", "°F", "K"});
constexpr auto speeds = std::to_array<std::string_view>({"km/h", "m/s", "mph", "kn"});
constexpr auto angles = std::to_array<std::string_view>({"deg", "1e-7 deg"});
constexpr auto lengths = std::to_array<std::string_view>({"m", "ft"});
constexpr auto accelerations = std::to_array<std::string_view>({"g", "m/s²", "mg"});
constexpr auto powers = std::to_array<std::string_view>({"W", "kW"});
constexpr auto charges = std::to_array<std::string_view>({"mAh", "Ah", "As"});
struct WrittenUnits {
    std::string_view siUnit; // of the quantities that are written so
    std::span<const std::string_view> units;
};
constexpr WrittenUnits writtenUnits[] = {
    {"s", times},         {"V", voltages},         {"A", currents}, {"", shares},
    {"rad/s", rotations}, {"K", temperatures},     {"m/s", speeds}, {"deg", angles},
    {"m", lengths},       {"m/s²", accelerations}, {"W", powers},   {"A s", charges}};

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
    static constexpr auto ripples = std::to_array<std::string_view>({"V", "mV", "V rms", "mV rms"});
    if (quantity == Q::SessionMark || quantity == Q::EventMark) return {};
    if (quantity == Q::RippleVoltage) return ripples;
    const auto* const found =
        std::find_if(std::begin(writtenUnits), std::end(writtenUnits),
                     [&](const WrittenUnits& one) { return one.siUnit == quantityInfo(quantity).siUnit; });
    return found == std::end(writtenUnits) ? std::span<const std::string_view>() : found->units;
}

double toDisplay(Quantity quantity, double si) {
    const DisplayUnit& unit = quantityInfo(quantity).display;
    return si * unit.scale + unit.offset;
}

} // namespace rw
