// Where a grid of values reaches a level: the areas at or over it, the line on it, and where the values end.
#pragma once

#include <QLineF>
#include <QPolygonF>

#include <vector>

namespace rw {

struct Contour {
    std::vector<QPolygonF> areas; // a piece or two a cell, edge to edge: filled as one path they show no seams
    std::vector<QLineF> lines;    // on the level
    std::vector<QLineF> rims;     // where values of at least the level end, half-way to the next place without one
};

// xs and ys rising, z[x][y], NaN where there is no value. Linear between the grid's places, on the coordinates given.
// Lorensen & Cline's marching squares with the middle's value deciding saddles (from memory).
[[nodiscard]] Contour contourOf(const std::vector<double>& xs, const std::vector<double>& ys,
                                const std::vector<std::vector<double>>& z, double level);

} // namespace rw
