// Decimal marks and thousands marks, told by the numbers of the whole text. README.md 1 "Thousands or decimals".
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
    std::vector<double> sure; // 0..1 by column: under 1 where its marks fit both readings and nothing settles it
    char decimal = '.';       // of most columns
    char thousands = '\0';    // seen; '\0' none
    double confidence = 1.0;
    std::vector<std::string> notes;
};

inline constexpr double closenessConfidence = 0.6; // where only the closeness of rows decides

// names: of the columns, for the notes. A decimal mark that is told holds for every column.
[[nodiscard]] NumberStyles findNumberStyles(const ColumnSample& sample, std::span<const std::string> names,
                                            std::optional<char> told);

} // namespace rw
