// The one table of logged quantities: key, name, symbol, units, how to show them. README.md 2.
// Columns hold SI; charts, tables and reports convert through toDisplay() and nowhere else.
#pragma once

#include "core/log/log.h"

#include <optional>
#include <span>
#include <string_view>

namespace rw {

// shown = si * scale + offset
struct DisplayUnit {
    std::string_view unit;
    double scale = 1.0;
    double offset = 0.0;
};

struct QuantityInfo {
    Quantity quantity = Quantity::Count_;
    std::string_view key;    // JSON and column maps: "pack_voltage"
    std::string_view name;   // what a person reads: "pack voltage"
    std::string_view symbol; // plain letters: "U", "T_mot"
    std::string_view siUnit; // unit inside: "K", "rad/s"; "" for a pure number
    DisplayUnit display;
    int decimals = 0; // in the display unit
};

[[nodiscard]] std::span<const QuantityInfo> quantityTable(); // in the order of the enumeration
[[nodiscard]] const QuantityInfo& quantityInfo(Quantity quantity);
[[nodiscard]] std::string_view quantityKey(Quantity quantity);
[[nodiscard]] std::optional<Quantity> quantityFromKey(std::string_view key);
// Units in which logs write it, as findUnit() reads them, the usual one first; empty: it has none (marks).
[[nodiscard]] std::span<const std::string_view> unitChoices(Quantity quantity);
[[nodiscard]] double toDisplay(Quantity quantity, double si);

} // namespace rw
