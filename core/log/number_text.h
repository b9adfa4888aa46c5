// Numbers as they stand in cells.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace rw {

// How a column writes its numbers.
struct NumberStyle {
    char decimal = '.';
    char thousands = '\0'; // '.' or ',' where it groups digits; '\0' none. Blanks and ' between groups are always read.
    std::string_view unit; // may follow the number in the cell: "16.8 V"
};

enum class CellKind : std::uint8_t { Value, Missing, Unreadable };

struct Cell {
    CellKind kind = CellKind::Missing;
    double value = 0.0;
};

// Whole cell, quotes already off. Missing: empty, nan, null, n/a, dashes. Infinite is unreadable.
[[nodiscard]] Cell readCell(std::string_view text, const NumberStyle& style);

// The whole text with a decimal point, as files of receivers write numbers; nothing where it is none, or not finite.
[[nodiscard]] std::optional<double> finiteNumber(std::string_view text);

[[nodiscard]] std::string_view trimBlanks(std::string_view text); // blanks, tabs, no-break spaces

// d{1,3}(Mddd)+ with mark M and an optional sign: fits a grouped number. A leading 0 does not: 0.125 has no thousands.
[[nodiscard]] bool fitsThousands(std::string_view text, char mark);

// Digits, at most one decimal mark, an optional sign: the form that nearly every cell has, read in place.
// Returns the place behind it, nullptr where the cell needs readCell(). Reads until a byte that is neither digit nor
// mark, so the text must hold one: rows end with a line end. Exact: at most 15 digits and 22 decimals are taken here
// (Clinger 1990, "How to read floating point numbers accurately": both factors are exact doubles, one rounding).
[[nodiscard]] inline const char* plainNumber(const char* p, char decimal, double& value) {
    static constexpr double powers[] = {1.0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                        1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    const bool negative = *p == '-';
    p += negative || *p == '+';
    const char* const first = p;
    std::uint64_t digits = 0;
    unsigned digit = static_cast<unsigned>(*p) - '0';
    while (digit < 10) {
        digits = digits * 10 + digit;
        digit = static_cast<unsigned>(*++p) - '0';
    }
    auto count = p - first;
    std::ptrdiff_t decimals = 0;
    if (*p == decimal) {
        const char* const mark = p;
        digit = static_cast<unsigned>(*++p) - '0';
        while (digit < 10) {
            digits = digits * 10 + digit;
            digit = static_cast<unsigned>(*++p) - '0';
        }
        decimals = p - mark - 1;
        count += decimals;
    }
    if (count == 0 || count > 15) return nullptr;
    const double magnitude = static_cast<double>(digits) / powers[decimals];
    value = negative ? -magnitude : magnitude;
    return p;
}

} // namespace rw
