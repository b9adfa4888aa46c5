// One row of a table of figures, told by a pass that was planned or seen: what a key is called, what kind of value it
// is, and where it comes from. JSON, text, panels and pages name keys and read the rest here.
#pragma once

#include "core/dimension.h"

#include <optional>
#include <string_view>

namespace rw {

template<class... Of>
struct Figure {
    std::string_view key;   // JSON: "peak_pack_A"
    std::string_view title; // what a person reads: "peak pack current"
    Dimension dimension = Dimension::Number;
    int decimals = 2;                                     // in the written unit
    std::optional<double> (*get)(const Of&...) = nullptr; // in the written unit (dimension.h); none: not told
    bool printed = true;                                  // false: only kept, for what later logs are compared with
    std::string_view shortTitle = {}; // among few others, or where room is short; the title unless given
    [[nodiscard]] std::string_view brief() const { return shortTitle.empty() ? title : shortTitle; }
    [[nodiscard]] std::string_view unit() const { return writtenUnit(dimension).symbol; }
};

} // namespace rw
