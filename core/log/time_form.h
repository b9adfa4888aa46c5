// How the time column writes its stamps, and which column reads like one where none is named. README.md 1 "Time".
#pragma once

#include "core/log/column_map.h"
#include "core/log/column_match.h"
#include "core/log/column_sample.h"
#include "core/log/number_style.h"
#include "core/log/number_text.h"
#include "core/log/unit_text.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace rw {

struct TimeReading {
    TimeForm form = TimeForm::Seconds;
    Unit unit; // of plain numbers
    double confidence = 1.0;
};

// cells: of the time column; header: its unit, nullptr where none is told.
[[nodiscard]] TimeReading findTimeForm(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                                       const NumberStyle& style, const Unit* header, std::optional<TimeForm> told);

// s; nullopt where the text is no such time. Not for plain numbers.
[[nodiscard]] std::optional<double> parseTime(std::string_view text, TimeForm form);

inline constexpr double likelyTimeConfidence = 0.45; // told as a guess: never used by itself

// Of the columns that are not used: one whose cells are clock times, else one whose numbers rise from row to row in
// steady steps. A mere count of rows (steps of exactly 1) comes last. nullopt: none rises.
[[nodiscard]] std::optional<std::size_t> likelyTimeColumn(const ColumnSample& sample, const NumberStyles& styles,
                                                          const HeaderMeaning& meaning);

} // namespace rw
