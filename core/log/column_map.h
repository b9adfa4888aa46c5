// A column map: what the owner says about the columns of one header, kept and offered again for the same header.
//
// The document (JSON, UTF-8), version 1; all but the first three keys are optional:
//   { "runwright": "column-map", "version": 1,
//     "columns": { "Temp 1": { "quantity": "motor_temperature", "unit": "°C" },
//                  "Strom":  { "quantity": "pack_current", "unit": "A", "factor": 0.1 },   or "unit": "dA", or "0.1 A"
//                  "Spare":  { "quantity": null } },          null: the column is not used
//     "header": ["Time", "Temp 1", "Spare"],                  the header it was made for, in order
//     "encoding": "UTF-8", "separator": ";", "decimal": ",",  as ImportReport prints them
//     "time_form": "milliseconds", "rate_Hz": 50, "pole_pairs": 2 }
// Quantities are the keys of quantity.h; units as in a log's header. A column that the map does not name is matched as
// without a map; one that the map names has confidence 1. Names are compared without regard to case and outer spaces.
#pragma once

#include "core/log/log.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

enum class TextEncoding : std::uint8_t { Utf8, Utf8Bom, Utf16Le, Utf16Be, Latin1 };
enum class TimeForm : std::uint8_t { Seconds, Milliseconds, Microseconds, MinutesSeconds, Clock, Iso8601, Rate };

// The texts of ImportReport::encoding and ::timeForm, and back (nullopt: none of them).
[[nodiscard]] std::string_view encodingName(TextEncoding encoding);
[[nodiscard]] std::string_view timeFormName(TimeForm form);
[[nodiscard]] std::optional<TimeForm> timeFormFromName(std::string_view name);

// What the owner overrules of the text itself; nullopt is detected.
struct TextOverrides {
    std::optional<TextEncoding> encoding;
    std::optional<char> separator; // ',' ';' '\t' or ' '
    std::optional<char> decimal;   // '.' or ','
    std::optional<TimeForm> timeForm;
    bool operator==(const TextOverrides&) const = default;
};

struct MappedColumn {
    std::string name;
    std::optional<Quantity> quantity; // nullopt: not used
    std::string unit;                 // "": as the header says
    double factor = 1.0;              // > 0; what one of the log's counts is of that unit
    bool operator==(const MappedColumn&) const = default;
};

struct ColumnMap {
    std::vector<MappedColumn> columns;
    std::vector<std::string> header;
    TextOverrides text;
    std::optional<double> rate_Hz; // > 0
    std::optional<int> polePairs;  // 1..14
    bool operator==(const ColumnMap&) const = default;
    [[nodiscard]] const MappedColumn* find(std::string_view columnName) const;
};

// Throws InputError: file, line and column for broken JSON; file and key for what is unknown, missing or wrong.
[[nodiscard]] ColumnMap readColumnMap(std::string_view json, const std::string& fileName);
[[nodiscard]] ColumnMap readColumnMapFile(const std::string& path);
[[nodiscard]] std::string writeColumnMap(const ColumnMap& map); // pretty-printed, ends with a line feed
// A map that says what the report found, to be corrected and kept.
[[nodiscard]] ColumnMap columnMapFrom(const ImportReport& report);
// True if the map was made for this header (same names in the same order).
[[nodiscard]] bool mapFits(const ColumnMap& map, const ImportReport& report);

} // namespace rw
