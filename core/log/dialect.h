// Where the header stands and what separates the fields. Candidates (separator × header line) are scored by what their
// header names and by how many cells below are numbers, times or empty in rows of its width; the idea is van den Burg,
// Nazábal, Sutton 2019, doi 10.1007/s10618-019-00646-y.
#pragma once

#include "core/log/column_map.h"
#include "core/log/fields.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

inline constexpr std::size_t mostHeaderLines = 200; // the header stands within these
inline constexpr std::size_t mostColumns = 500;

// Lines that say something to people only: #, //, %.
[[nodiscard]] bool isComment(std::string_view line);
[[nodiscard]] bool isBlankLine(std::string_view line, char separator); // blanks and separators only

struct Dialect {
    FieldFormat format;
    double separatorConfidence = 1.0;
    std::size_t headerStart = 0; // bytes from the text's start
    std::size_t headerLine = 1;
    std::vector<std::string> names;         // UTF-8, quotes off
    std::vector<std::string> units;         // of the units row below; empty: none
    std::string_view headerText, unitsText; // the lines as they stand
    std::size_t dataStart = 0;              // behind the header and its units row
    std::size_t dataLine = 2;
};

// A header line that stands at start: its names and units row. latin1: the text is Latin-1.
[[nodiscard]] Dialect readHeaderAt(std::string_view text, std::size_t start, std::size_t line,
                                   const FieldFormat& format, bool latin1);

// How many different quantities a line names; names of the map count too.
[[nodiscard]] std::size_t quantitiesNamed(std::string_view line, const FieldFormat& format, bool latin1,
                                          const ColumnMap* map);

// nullopt: no header with two known columns in the first 200 lines. Throws InputError: over 500 columns, commas that
// are both separator and decimal mark.
[[nodiscard]] std::optional<Dialect> findDialect(std::string_view text, const std::string& fileName, bool latin1,
                                                 const TextOverrides& told, const ColumnMap* map);
// What looks most like a header, whatever it names: words above rows of numbers of the same width. nullopt: nothing.
[[nodiscard]] std::optional<Dialect> likelyDialect(std::string_view text, bool latin1, const TextOverrides& told);

} // namespace rw
