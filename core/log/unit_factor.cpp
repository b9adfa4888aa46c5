#include "core/log/unit_text.h"

#include "core/log/ascii_text.h"
#include "core/log/number_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fast_float/fast_float.h>
#include <string>

namespace rw {
namespace {

constexpr std::size_t longestFactor = 24; // bytes

// Takes a sign of multiplication off the front; false: there is none.
bool takeSign(std::string_view& text) {
    for (const std::string_view sign : {"x", "X", "*", "\xC3\x97", "\xC2\xB7", "\xE2\x8B\x85"}) {
        if (!text.starts_with(sign)) continue;
        text = trimBlanks(text.substr(sign.size()));
        return true;
    }
    return false;
}

// Digits with a decimal mark and an exponent, taken off the front.
std::optional<double> takeDecimal(std::string_view& text) {
    std::string plain(text.substr(0, longestFactor));
    std::ranges::replace(plain, ',', '.');
    double value = 0.0;
    if (plain.empty() || !isDigit(plain[0])) return std::nullopt;
    const auto [end, error] = fast_float::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (error != std::errc()) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - plain.data()));
    return value;
}

// "0.1", "1e-7", "10^-3", "1/10", taken off the front; only what is over 0 and sensible as a factor.
std::optional<double> takeNumber(std::string_view& text) {
    std::string_view rest = text;
    std::optional<double> value = takeDecimal(rest);
    if (value && *value == 10.0 && rest.starts_with('^')) {
        rest.remove_prefix(1);
        const bool negative = rest.starts_with('-');
        if (negative) rest.remove_prefix(1);
        const std::optional<double> power = takeDecimal(rest);
        if (!power) return std::nullopt;
        value = std::pow(10.0, negative ? -*power : *power);
    } else if (value && rest.size() > 1 && rest[0] == '/' && isDigit(rest[1])) {
        rest.remove_prefix(1);
        *value /= takeDecimal(rest).value_or(0.0);
    }
    constexpr double least = 1e-12, most = 1e12;
    if (!value || !(*value >= least && *value <= most)) return std::nullopt;
    text = trimBlanks(rest);
    return value;
}

bool isPowerOfTen(double value) {
    const double power = std::round(std::log10(value));
    return value != 1.0 && std::abs(value - std::pow(10.0, power)) < 1e-9 * value;
}

struct Prefix {
    std::string_view letters;
    double divisor;
    std::string_view units; // with a blank around each
};
// "kg" and "cg" are other words.
constexpr std::array prefixes{
    Prefix{"D", 10.0, " V A "}, // headers in capitals
    Prefix{"d", 10.0, " V A W C °C K s m m/s % deg ° Ah "},
    Prefix{"c", 100.0, " V A W C °C K s m m/s % deg ° Ah "},
    Prefix{"m", 1e3, " V A W C °C K s m m/s g G deg ° Ah As "},
    Prefix{"k", 1e-3, " V A W m Hz "},
    Prefix{"u", 1e6, " V A s g G deg ° Ah "},
    Prefix{"\xC2\xB5", 1e6, " V A s g G deg ° Ah "}, // micro sign
    Prefix{"\xCE\xBC", 1e6, " V A s g G deg ° Ah "}, // Greek mu
    Prefix{"n", 1e9, " s "},
};

std::optional<Unit> withPrefix(std::string_view text, const FindPlainUnit& plain) {
    for (const Prefix& prefix : prefixes) {
        if (!text.starts_with(prefix.letters)) continue;
        const std::string_view base = text.substr(prefix.letters.size());
        if (base.empty() || prefix.units.find(" " + std::string(base) + " ") == std::string_view::npos) continue;
        if (const Unit* unit = plain(base)) return scaledUnit(*unit, 1.0 / prefix.divisor);
    }
    return std::nullopt;
}

std::optional<Unit> plainOrPrefixed(std::string_view text, const FindPlainUnit& plain) {
    if (const Unit* unit = plain(text)) return *unit;
    return withPrefix(text, plain);
}

// "0.1 A", "2.5 x A".
std::optional<Unit> factorFirst(std::string_view text, const FindPlainUnit& plain) {
    const bool sign = takeSign(text);
    const std::optional<double> factor = takeNumber(text);
    if (!factor) return std::nullopt;
    if (!takeSign(text) && !sign && !isPowerOfTen(*factor)) return std::nullopt;
    const std::optional<Unit> unit = plainOrPrefixed(text, plain);
    return unit ? std::optional(scaledUnit(*unit, *factor)) : std::nullopt;
}

// "A x 0.1", "A/10".
std::optional<Unit> factorLast(std::string_view text, const FindPlainUnit& plain) {
    for (std::size_t at = text.size(); at-- > 1;) {
        const std::string_view behind = text.substr(at);
        std::string_view sign = behind;
        if (behind[0] != '/' && !takeSign(sign)) continue;
        const std::optional<BareFactor> factor = bareFactor(behind);
        if (!factor) continue;
        const std::optional<Unit> unit = plainOrPrefixed(trimBlanks(text.substr(0, at)), plain);
        if (unit) return scaledUnit(*unit, factor->times(unit->dimension));
    }
    return std::nullopt;
}

} // namespace

Unit scaledUnit(Unit unit, double factor) {
    if (factor == 1.0) return unit;
    unit.spelling = {};
    const double whole = std::round(1.0 / factor);
    if (factor < 1.0 && std::abs(1.0 / factor - whole) < 1e-9 * whole)
        unit.divisor *= whole;
    else
        unit.factor *= factor;
    return unit;
}

double BareFactor::times(UnitKind dimension) const {
    const bool turns = dimension == UnitKind::Rotation || dimension == UnitKind::Electrical;
    if (turns) return number;
    return divides || number > 1.0 ? 1.0 / number : number;
}

std::optional<BareFactor> bareFactor(std::string_view text) {
    text = trimBlanks(text);
    if (text.size() > longestFactor) return std::nullopt;
    BareFactor factor;
    factor.divides = text.starts_with('/');
    if (factor.divides) text = trimBlanks(text.substr(1));
    const bool sign = takeSign(text);
    const std::optional<double> number = takeNumber(text);
    if (!number || !text.empty()) return std::nullopt;
    if (!sign && !isPowerOfTen(*number)) return std::nullopt;
    factor.number = *number;
    return factor;
}

std::optional<Unit> unitWithFactor(std::string_view text, const FindPlainUnit& plain) {
    if (text.size() < 2 || text.size() > longestFactor) return std::nullopt;
    if (std::optional<Unit> unit = withPrefix(text, plain)) return unit;
    if (text.find_first_of("0123456789") == std::string_view::npos) return std::nullopt;
    if (std::optional<Unit> unit = factorFirst(text, plain)) return unit;
    return factorLast(text, plain);
}

} // namespace rw
