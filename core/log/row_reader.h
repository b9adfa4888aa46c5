// All rows below one header, read chunk by chunk into contiguous columns.
#pragma once

#include "core/log/row_parser.h"
#include "core/log/text_survey.h"

#include <functional>
#include <stop_token>

namespace rw {

// A text that has been looked over, and how to work on it.
struct SurveyedText {
    std::string_view text; // ends with a line end
    const TextSurvey& survey;
    unsigned threads = 1;
    bool mapped = false; // pages can be given back
    std::stop_token stop;
};

struct SectionRows {
    std::vector<double> time;
    std::vector<std::uint32_t> line;
    std::vector<std::vector<double>> columns; // by column of the header; empty where not read
    ChunkResult totals;                       // sums over the chunks, rows and marks counted from the section's start
    [[nodiscard]] std::size_t rows() const { return totals.rows; }
};

// Lines from start (physical line firstLine) to end, both line starts. progress gets the bytes done.
[[nodiscard]] SectionRows readSection(const RowPlan& plan, const SurveyedText& source, std::size_t start,
                                      std::size_t firstLine, std::size_t end,
                                      const std::function<void(std::size_t)>& progress);

} // namespace rw
