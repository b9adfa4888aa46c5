// Decimal marks and thousands marks, told by the numbers of the whole text. log.md 1 "Thousands or decimals".
#pragma once

#include "core/log/column_sample.h"
#include "core/log/number_text.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace rw {

struct NumberStyles {
    std::vector<NumberStyle> columns;
    char decimal = '.';      // of most columns
    char thousands = '\0';   // seen; '\0' none
    double confidence = 1.0;
    std::vector<std::string> notes;
};

// names: of the columns, for the notes. A decimal mark that is told holds for every column.
[[nodiscard]] NumberStyles findNumberStyles(const ColumnSample& sample, std::span<const std::string> names,
                                            std::optional<char> told);

} // namespace rw
