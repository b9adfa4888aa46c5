// Which column of a log without a named time column reads like one. Internal to core/log.
#pragma once

#include "core/log/column_match.h"
#include "core/log/column_sample.h"
#include "core/log/number_style.h"

#include <cstddef>
#include <optional>

namespace rw {

inline constexpr double likelyTimeConfidence = 0.45; // told as a guess: never used by itself

// Of the columns that are not used: one whose cells are clock times, else one whose numbers rise from row to row in
// steady steps. A mere count of rows (steps of exactly 1) comes last. nullopt: none rises.
[[nodiscard]] std::optional<std::size_t> likelyTimeColumn(const ColumnSample& sample, const NumberStyles& styles,
                                                          const HeaderMeaning& meaning);

} // namespace rw
