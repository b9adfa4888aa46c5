#include "core/log/fields.h"

#include "core/log/number_text.h"
#include "core/log/text_survey.h"

#include <algorithm>

namespace rw {
namespace {

constexpr std::size_t mostQuotedBytes = 65536;
constexpr int mostQuotedLines = 100;
constexpr std::size_t none = std::string_view::npos;

bool isBlank(char c) { return c == ' ' || c == '\t'; }

// The field's text starts with a quote, blanks aside (a tab may be the separator itself).
std::size_t openingQuote(std::string_view text, std::size_t at, char separator) {
    while (at < text.size() && isBlank(text[at]) && text[at] != separator)
        ++at;
    return at < text.size() && text[at] == '"' ? at : none;
}

// Behind the quote that closes the one at `open` and that a separator or line end follows; none: it does not close.
std::size_t closingQuote(std::string_view text, std::size_t open, char separator) {
    int lines = 0;
    const std::size_t limit = std::min(text.size(), open + mostQuotedBytes);
    for (std::size_t i = open + 1; i < limit; ++i) {
        if (closesLine(text, i) && ++lines > mostQuotedLines) return none;
        if (text[i] != '"') continue;
        if (i + 1 < text.size() && text[i + 1] == '"') {
            ++i;
            continue;
        }
        std::size_t after = i + 1;
        while (after < text.size() && isBlank(text[after]) && text[after] != separator)
            ++after;
        return after >= text.size() || text[after] == separator || endsLine(text[after]) ? after : none;
    }
    return none;
}

void splitBlanks(std::string_view record, bool wide, std::vector<std::string_view>& fields) {
    std::size_t i = 0;
    while (i < record.size()) {
        while (i < record.size() && isBlank(record[i]))
            ++i;
        if (i >= record.size()) return;
        const std::size_t start = i;
        const std::size_t closed = record[i] == '"' ? closingQuote(record, i, ' ') : none;
        if (closed != none)
            i = closed;
        else
            while (i < record.size() && !(isBlank(record[i]) && (!wide || i + 1 >= record.size() ||
                                                                 isBlank(record[i + 1]) || record[i] == '\t')))
                ++i;
        fields.push_back(record.substr(start, i - start));
    }
}

} // namespace

std::size_t quotedEnd(std::string_view text, std::size_t at, char separator) {
    const std::size_t open = openingQuote(text, at, separator);
    return open == none ? none : closingQuote(text, open, separator);
}

std::size_t fieldEnd(std::string_view record, std::size_t at, char separator) {
    const std::size_t closed = quotedEnd(record, at, separator);
    return closed != none ? closed : std::min(record.find(separator, at), record.size());
}

std::string_view recordAt(std::string_view text, std::size_t start, char separator) {
    std::size_t at = start;
    while (at < text.size()) {
        std::size_t end = quotedEnd(text, at, separator);
        if (end == none)
            for (end = at; end < text.size() && text[end] != separator && !endsLine(text[end]); ++end) {
            }
        if (end >= text.size() || endsLine(text[end])) return text.substr(start, std::min(end, text.size()) - start);
        at = end + 1;
    }
    return text.substr(start);
}

void splitFields(std::string_view record, const FieldFormat& format, std::vector<std::string_view>& fields) {
    fields.clear();
    if (format.separator == ' ') {
        splitBlanks(record, format.wideBlanks, fields);
        return;
    }
    std::size_t at = 0;
    while (true) {
        const std::size_t end = fieldEnd(record, at, format.separator);
        fields.push_back(record.substr(at, end - at));
        if (end >= record.size()) return;
        at = end + 1;
    }
}

void splitRow(std::string_view record, const FieldFormat& format, std::size_t width,
              std::vector<std::string_view>& fields) {
    splitFields(record, format, fields);
    if (format.separator != ' ' || !format.wideBlanks || fields.size() == width) return;
    std::vector<std::string_view> narrow;
    splitFields(record, {' ', false}, narrow);
    if (narrow.size() == width) fields.swap(narrow);
}

std::string unquoted(std::string_view field) {
    field = trimBlanks(field);
    if (field.size() < 2 || field.front() != '"' || field.back() != '"') return std::string(field);
    field = field.substr(1, field.size() - 2);
    std::string out;
    out.reserve(field.size());
    for (std::size_t i = 0; i < field.size(); ++i) {
        out.push_back(field[i]);
        if (field[i] == '"' && i + 1 < field.size() && field[i + 1] == '"') ++i;
    }
    return out;
}

} // namespace rw
