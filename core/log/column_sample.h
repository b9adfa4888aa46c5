// A sample of cells from all over the text, by column: what number styles, units in cells and time forms are judged by.
#pragma once

#include "core/log/dialect.h"

#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct ColumnSample {
    // cells[column][row], quotes off; rows in the order of the text, the same number in every column. runs: rows at
    // which a stretch of neighbouring rows begins.
    std::vector<std::vector<std::string>> cells;
    std::vector<std::size_t> runs;
};

// The first rows and stretches spread over the rest; comments and rows of another width than the header's are left out.
[[nodiscard]] ColumnSample sampleColumns(std::string_view text, const Dialect& dialect, bool latin1);

} // namespace rw
