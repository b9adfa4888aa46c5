// How many cells a session's pack has, from what is told or from its resting voltage.
// Internal to core/review.
#pragma once

#include "core/review/context.h"

namespace rw::review {

struct CellCount {
    std::optional<int> cells;
    bool sure = false;
    std::vector<int> candidates;          // likeliest first
    std::optional<double> restingVoltage; // V
    bool nearlyEmpty = false;             // fits only at 3.0…3.5 V per cell
    bool planFits = false;                // the plan's count puts rest where cells rest, or there is no rest to tell
    std::optional<int> byVoltage;         // what the voltage alone would say, where the plan says another count
};

// V, median of the first second at rest within the first ten seconds of rows.
[[nodiscard]] std::optional<double> firstRestingVoltage(const Context& context, Rows rows, const RestRule& rest);
// From the voltage alone, told counts apart.
[[nodiscard]] CellCount cellsFromVoltage(const Context& context, std::optional<double> restingVoltage);
// For session number `session`; told counts that do not fit are refused: InputError.
[[nodiscard]] CellCount countCells(const Context& context, std::size_t session, std::size_t sessions,
                                   std::optional<double> restingVoltage);

} // namespace rw::review
