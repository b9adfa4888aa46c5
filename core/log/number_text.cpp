#include "core/log/number_text.h"

#include "core/log/ascii_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <fast_float/fast_float.h>
#include <string>

namespace rw {
namespace {

constexpr std::array<std::string_view, 12> missingWords{"nan", "null", "n/a", "na",   "none", "nil",
                                                        "-",   "--",   "---", "#n/a", "n.a.", "?"};
constexpr std::size_t longestNumber = 64;

bool saysMissing(std::string_view text) {
    return text.empty() ||
           std::ranges::any_of(missingWords, [text](std::string_view word) { return equalIgnoringCase(text, word); });
}

// Length of a group mark at the start of text: blank, ', no-break space (U+00A0), thin no-break space (U+202F), or the
// column's own; 0 none.
std::size_t groupMark(std::string_view text, char thousands) {
    if (text.empty()) return 0;
    if (text[0] == ' ' || text[0] == '\'' || (thousands != '\0' && text[0] == thousands)) return 1;
    if (text.starts_with("\xC2\xA0")) return 2;
    if (text.starts_with("\xE2\x80\xAF")) return 3;
    return 0;
}

// The number without its group marks, with a decimal point; empty: the groups are not of three digits.
std::string ungrouped(std::string_view text, const NumberStyle& style) {
    std::string plain;
    std::size_t group = 0;
    bool grouped = false, whole = true;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t mark = whole && group > 0 ? groupMark(text.substr(i), style.thousands) : 0;
        if (mark > 0) {
            if (group > 3 || (grouped && group != 3) || i + mark >= text.size() || !isDigit(text[i + mark])) return {};
            grouped = true;
            group = 0;
            i += mark;
            continue;
        }
        const char c = text[i++];
        if (c == '.' && style.decimal != '.') return {};
        if (isDigit(c))
            ++group;
        else if (whole) {
            if (grouped && group != 3) return {};
            whole = plain.empty() || plain == "-" || plain == "+";
            group = 0;
        }
        plain.push_back(c == style.decimal ? '.' : c);
    }
    return grouped && whole && group != 3 ? std::string() : plain;
}

// The unit of the column behind the number, with or without a blank.
std::string_view withoutUnit(std::string_view text, std::string_view unit) {
    if (unit.empty() || text.size() <= unit.size() || !text.ends_with(unit)) return text;
    const std::string_view number = trimBlanks(text.substr(0, text.size() - unit.size()));
    return !number.empty() && (isDigit(number.back()) || number.back() == '.') ? number : text;
}

bool convert(std::string_view text, double& value) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const char* const end = text.data() + text.size();
    // A written 1e999 or inf is no measurement; letters other than the exponent's never start a number.
    const std::string_view unsign = text.starts_with('-') ? text.substr(1) : text;
    if (unsign.empty() || (!isDigit(unsign[0]) && unsign[0] != '.')) return false;
    const auto [stop, error] = fast_float::from_chars(text.data(), end, value);
    return error == std::errc() && stop == end && std::isfinite(value);
}

} // namespace

std::optional<double> finiteNumber(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = fast_float::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::string_view trimBlanks(std::string_view text) {
    const auto blankAhead = [&]() -> std::size_t {
        if (text.starts_with(' ') || text.starts_with('\t')) return 1;
        return text.starts_with("\xC2\xA0") ? 2 : 0;
    };
    const auto blankBehind = [&]() -> std::size_t {
        if (text.ends_with(' ') || text.ends_with('\t')) return 1;
        return text.ends_with("\xC2\xA0") ? 2 : 0;
    };
    for (std::size_t n = blankAhead(); n > 0; n = blankAhead())
        text.remove_prefix(n);
    for (std::size_t n = blankBehind(); n > 0; n = blankBehind())
        text.remove_suffix(n);
    return text;
}

bool fitsThousands(std::string_view text, char mark) {
    if (!text.empty() && (text[0] == '-' || text[0] == '+')) text.remove_prefix(1);
    std::size_t lead = 0;
    while (lead < text.size() && isDigit(text[lead]))
        ++lead;
    if (lead == 0 || lead > 3 || text[0] == '0' || lead == text.size()) return false;
    text.remove_prefix(lead);
    while (!text.empty()) {
        if (text.size() < 4 || text[0] != mark || !isDigit(text[1]) || !isDigit(text[2]) || !isDigit(text[3]))
            return false;
        text.remove_prefix(4);
    }
    return true;
}

Cell readCell(std::string_view text, const NumberStyle& style) {
    text = trimBlanks(text);
    if (saysMissing(text)) return {CellKind::Missing, 0.0};
    Cell cell{CellKind::Value, 0.0};
    text = withoutUnit(text, style.unit);
    if (text.size() > longestNumber || !convert(ungrouped(text, style), cell.value)) cell.kind = CellKind::Unreadable;
    return cell;
}

} // namespace rw
