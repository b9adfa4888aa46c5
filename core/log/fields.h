// Records and fields of delimited text: RFC 4180 quoting, blanks as separator, line breaks inside quotes.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct FieldFormat {
    char separator = ',';
    bool wideBlanks = false; // separator ' ': only runs of two or more blanks separate
};

inline constexpr bool endsLine(char c) { return c == '\n' || c == '\r'; }

// The record that starts at a line start, without its line end. A quoted field may hold line ends, if its quote closes
// before a separator or line end within 100 lines and 64 kB; else the quote is a plain character and the line stands
// alone.
[[nodiscard]] std::string_view recordAt(std::string_view text, std::size_t start, char separator);

// Fields as they stand, quotes included.
void splitFields(std::string_view record, const FieldFormat& format, std::vector<std::string_view>& fields);

// Fields of a row below a header of so many columns: rows under a header with wide blanks may have single ones.
void splitRow(std::string_view record, const FieldFormat& format, std::size_t width,
              std::vector<std::string_view>& fields);

// Behind the field that starts at `at`: at its separator or the record's end. Not for blanks.
[[nodiscard]] std::size_t fieldEnd(std::string_view record, std::size_t at, char separator);

// Behind a quoted field that starts at `at`, line ends inside its quotes included; npos: no quote, or one that does not
// close as recordAt() wants it.
[[nodiscard]] std::size_t quotedEnd(std::string_view text, std::size_t at, char separator);

// Outer blanks and quotes taken off, doubled quotes undoubled.
[[nodiscard]] std::string unquoted(std::string_view field);

} // namespace rw
