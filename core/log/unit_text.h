// Units as headers and cells spell them, and what they mean in SI.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace rw {

enum class Dimension : std::uint8_t {
    Voltage,
    Current,
    Power,
    Charge,
    Time,
    Temperature,
    Fraction,   // of 1
    Rotation,   // rad/s
    Electrical, // electrical revolutions: rad/s times pole pairs
    Speed,
    Angle,
    Length,
    Acceleration,
    Raw // counts without a unit
};

struct Unit {
    std::string_view spelling;
    Dimension dimension = Dimension::Raw;
    // SI = number * factor / divisor + offset; factor and divisor apart so that milli is a correctly rounded division.
    double factor = 1.0, divisor = 1.0, offset = 0.0;
    bool rms = false;
};

// nullptr: no unit that is known. Letters count as written ("mV" is no "MV"), then, where only one unit fits, any case.
[[nodiscard]] const Unit* findUnit(std::string_view text);

// A header cell taken apart: "Pack [V]", "pack_V", "Pack V", "Pack (V)", "Pack/V".
struct HeaderText {
    std::string_view name; // without the unit
    std::string_view unit; // as written; "" none
    const Unit* known = nullptr;
};
[[nodiscard]] HeaderText splitHeader(std::string_view cell);

} // namespace rw
