// Painting of lanes onto any surface. Private to this room.
#pragma once

#include "plotting/lanes.h"

#include <vector>

namespace rw {

struct LanesPicture {
    const LanesContent& content;
    const std::vector<Range>& values; // what each lane's height spans, display units
    LanesGeometry geometry;
    const Look& look;
    double devicePixelRatio = 1.0;
    bool vectors = false; // for files: shapes instead of pixels
};

// One lane of it.
struct LanePicture {
    LanePicture(const LanesPicture& picture, int lane)
        : whole(picture)
        , g(picture.geometry)
        , look(picture.look)
        , index(lane)
        , what(picture.content.lanes[static_cast<std::size_t>(lane)])
        , values(picture.values[static_cast<std::size_t>(lane)]) {}
    const LanesPicture& whole;
    const LanesGeometry& g;
    const Look& look;
    int index;
    const Lane& what;
    Range values;
    [[nodiscard]] double top() const { return g.laneTop(index); }
    [[nodiscard]] double bottom() const { return g.laneBottom(index); }
    [[nodiscard]] QRectF area() const { return {g.left, top(), g.right - g.left, g.laneHeight}; }
    [[nodiscard]] double pixelOf(double value) const { return g.pixelOf(index, value, values); }
    [[nodiscard]] double pixelOfSample(double stored) const { return pixelOf(stored * what.scale + what.offset); }
};

// Everything but the cursors.
void paintLanes(QPainter& painter, const LanesPicture& picture);

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

// The samples' lines alone.
void paintTraces(QPainter& painter, const LanesPicture& picture);

// The part of a line (x ascending) between two verticals: drawings in files know no clip.
[[nodiscard]] QPolygonF cutToWidth(const QPolygonF& line, double left, double right);

struct LanesCursors {
    std::optional<double> cursor, anchor;
    std::vector<LaneReading> readings;
};
void paintCursors(QPainter& painter, const LanesPicture& picture, const LanesCursors& cursors);

// "4.40 s" or "12:04.4", counted from the zero of the segment that holds the moment.
[[nodiscard]] QString momentText(const LanesContent& content, Range seen, double t);

} // namespace rw
