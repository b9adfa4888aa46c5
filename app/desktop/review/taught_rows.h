// The tables of "What this day taught": rows of ready cells with their bars. Pure.
#pragma once

#include "app/desktop/review/bar_table.h"
#include "app/desktop/review/day_taught.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/units.h"

#include <vector>

namespace rw {

// Parameters: the most narrowed first, those that stayed undetermined last.
[[nodiscard]] TaughtTable parameterRows(const LearnReport& report, const Units& units);
// The last pass: foretold, seen, said where outside.
[[nodiscard]] TaughtTable foretoldRows(const Foretold& foretold, const Units& units);
// Changes: those that break a limit in over one case of ten below a dividing row.
[[nodiscard]] TaughtTable changeRows(const NextReport& next, std::optional<double> target, const Units& units);
// How closely each quantity was followed.
[[nodiscard]] TaughtTable residualRows(const LearnReport& report, const Units& units);

// "Of the day, not carried on: …"; "" where there is nothing to tell.
[[nodiscard]] QString dayWords(const LearnReport& report, const Units& units);

// Which passes were not learned from, a sentence a reason.
[[nodiscard]] std::vector<std::string> leftOutWords(const LearnReport& report);

} // namespace rw
