// What a header and a sample of the rows below it tell: the plan by which the rows are read.
#pragma once

#include "core/log/column_match.h"
#include "core/log/import.h"
#include "core/log/row_parser.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct SectionPlan {
    RowPlan rows;
    HeaderMeaning meaning;
    TimeReading time;
    char decimal = '.', thousands = '\0';
    double decimalConfidence = 1.0;
    bool hasTime = false;                             // a time column, or a rate that is told
    std::optional<std::size_t> likelyTime;            // where there is neither: the column that reads like it
    std::vector<std::vector<std::string>> firstCells; // by column, of the first rows
};

// options are merged with their map already (see mergedOptions). text is the body of the log.
[[nodiscard]] SectionPlan planSection(std::string_view text, const Dialect& dialect, bool latin1,
                                      const ImportOptions& options);

// The options with what the map says where they say nothing themselves.
[[nodiscard]] ImportOptions mergedOptions(ImportOptions options);

} // namespace rw
