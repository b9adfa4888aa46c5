// A column of samples as something to fill or stroke: what the line between them covers in each pixel column.
// No Qt here. Private to this room.
#pragma once

#include "plotting/lanes.h"

#include <vector>

namespace rw {

// First row at or after the left edge of each pixel column; one more for the right edge of the last.
// Shared by all lanes of a frame: looking up times is what costs.
struct PixelColumns {
    double left = 0.0, width = 1.0; // logical pixels: where column 0 begins, how wide each is
    std::vector<double> times;      // edges
    std::vector<std::size_t> rows;
    [[nodiscard]] std::size_t count() const { return rows.empty() ? 0 : rows.size() - 1; }
    [[nodiscard]] std::size_t visibleRows() const { return rows.empty() ? 0 : rows.back() - rows.front(); }
};

[[nodiscard]] PixelColumns pixelColumns(const LanesGeometry& geometry, const LaneTime& time, double devicePixelRatio);

// Least and largest value of the line in each pixel column, in values as stored. Columns that the line does not
// touch (gap, missing samples) come back empty. Where a column holds few rows, the straight line to the neighbours
// counts too, so nothing is lost between samples. Neighbouring columns meet: no jump leaves a hole.
[[nodiscard]] std::vector<Extent> traceExtents(const PixelColumns& columns, const LaneTime& time,
                                               const MinMaxPyramid& values);

} // namespace rw
