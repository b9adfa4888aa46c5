// The heat of a day: how many passes back to back until a limit, over the wait between them.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct DayOptions {
    int passes = 20;             // counts no further; 1 … 100
    std::vector<double> waits_s; // empty: the usual ones from 0 to 20 min
    WorkOptions work;
};

// Passes with the same pack, as in the plan; peaks over those within limits, of the first pass where none is.
struct DayRow {
    double wait_s = 0.0;
    int passes = 0;                           // until a limit, at most as many as asked
    double windingPeak = 0.0, casePeak = 0.0; // °C; the case's soak counted
    std::optional<std::string_view> limit;    // what ends it (repeats.h); none: nothing within the passes asked for
};

struct DayResult {
    std::vector<DayRow> rows; // in the order of the waits
};

// Full passes. Throws InputError for an invalid input, number of passes or wait.
[[nodiscard]] DayResult dayOfPasses(const PlanInput& input, const DayOptions& options = {});
[[nodiscard]] std::string dayJson(const DayResult& day);

} // namespace rw
