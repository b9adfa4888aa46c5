// Units as headers and cells spell them, and what they mean in SI.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>

namespace rw {

enum class UnitKind : std::uint8_t {
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
    std::string_view spelling; // "" where a factor or a prefix was worked in
    UnitKind dimension = UnitKind::Raw;
    // SI = number * factor / divisor + offset; factor and divisor apart so that milli is a correctly rounded division.
    double factor = 1.0, divisor = 1.0, offset = 0.0;
    bool rms = false;
};

// The unit times a factor over 0: 0.1 A from A. Whole parts are divided by, so that milli stays correctly rounded.
[[nodiscard]] Unit scaledUnit(Unit unit, double factor);

// nullopt: no unit that is known. Letters count as written ("mV" is no "MV"), then, where only one unit fits, any case.
// Also with a decimal prefix ("dA", "cV", "d°C") and with a factor: a power of ten before it ("0.1 A"), any number with
// a sign of multiplication ("2.5 x A", "A*0.1"), or a fraction ("A/10", "1/10 A"). "rpm x100" and "rpm/100" are
// hundreds of turns; "V x100" and "V/100" are hundredths of volts: no sensor counts in hundreds of volts, none in
// hundredths of a turn.
[[nodiscard]] std::optional<Unit> findUnit(std::string_view text);

// "x100", "× 0.1", "*10", "/100", "0.1": a factor without its unit, as findUnit() would read it beside one.
struct BareFactor {
    double number = 1.0;
    bool divides = false;
    [[nodiscard]] double times(UnitKind dimension) const;
};
[[nodiscard]] std::optional<BareFactor> bareFactor(std::string_view text);

// A header cell taken apart: "Pack [V]", "pack_V", "Pack V", "Pack (V)", "Pack/V".
struct HeaderText {
    std::string_view name; // without the unit
    std::string_view unit; // as written; "" none
    std::optional<Unit> known;
    std::optional<BareFactor> factor; // "RPM (x100)": of the unit that the quantity usually has
};
[[nodiscard]] HeaderText splitHeader(std::string_view cell);

// Factors beside units: "0.1 A", "dA", "rpm x100", "V/10". Internal to core/log.

// The unit of that very spelling, without a factor.
using FindPlainUnit = std::function<const Unit*(std::string_view)>;
// A unit with a factor or a decimal prefix; nullopt: none. See findUnit().
[[nodiscard]] std::optional<Unit> unitWithFactor(std::string_view text, const FindPlainUnit& plain);

} // namespace rw
