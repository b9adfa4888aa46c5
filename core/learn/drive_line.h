// Rows of a rounded output, or of a noisy speed, as the fewest straight lines that rounding or noise leaves room for.
// Internal to core/learn.
#pragma once

#include "core/learn/day.h"

#include <vector>

namespace rw::learning {

struct DriveLine {
    std::vector<DriveRow> knots; // linear between them; the first and the last at the first and the last row
    std::size_t rows = 0;        // on the first line
    double slope = 0.0;          // of it, 1/s; 0 with a single row
};

// Each line is the least-squares one of its rows and lies so close to all of them; lines meet where they cross, so a
// corner between two rows is found. A line over n rows is about √n/2 times as sure as a row.
[[nodiscard]] DriveLine drawnThrough(const std::vector<DriveRow>& rows, double closeness);

} // namespace rw::learning
