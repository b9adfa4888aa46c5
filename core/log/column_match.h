// Column names → quantities, by words and unit, with a confidence. README.md 1 "Columns → quantities".
#pragma once

#include "core/log/column_map.h"
#include "core/log/log.h"
#include "core/log/unit_text.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace rw {

inline constexpr double confidenceUsed = 0.8;     // from here used
inline constexpr double confidenceMarked = 0.5;   // from here used and marked
inline constexpr double confidenceRepeated = 0.4; // the most that a second column of the same name gets

struct NameMatch {
    std::optional<Quantity> quantity; // the best guess, whatever its confidence
    double confidence = 0.0;
    bool electrical = false; // electrical revolutions: needs pole pairs
    bool rms = false;
};
[[nodiscard]] NameMatch matchName(const HeaderText& header);
// The quantity that a header cell names well enough to be used. Cheap for cells that hold no letter.
[[nodiscard]] std::optional<Quantity> namedQuantity(std::string_view cell);

// One column of a header as it will be read.
struct ColumnMeaning {
    ImportColumn report;
    Unit unit; // conversion to SI; default: as written
    bool unitKnown = false;
    std::optional<BareFactor> bareFactor; // of the header
    double factor = 1.0;                  // of the owner
    bool electrical = false;
    bool rms = false;
};
struct HeaderMeaning {
    std::vector<ColumnMeaning> columns;
    std::vector<std::string> notes;
};
// Names in order, units rows merged in by the caller ("" where none). One column a quantity: the surest.
[[nodiscard]] HeaderMeaning matchHeader(std::span<const std::string> names, std::span<const std::string> units,
                                        const ColumnMap* map);

} // namespace rw
