// Painting of lanes onto any surface. Private to this room.
#pragma once

#include "plotting/lanes.h"

namespace rw {

struct LanesPicture {
    const LanesContent& content;
    const std::vector<Range>& values; // what each lane's height spans, display units
    LanesGeometry geometry;
    const Look& look;
    double devicePixelRatio = 1.0;
    bool vectors = false; // for files: shapes instead of pixels
};

// Everything but the cursors.
void paintLanes(QPainter& painter, const LanesPicture& picture);

// The samples' lines alone.
void paintTraces(QPainter& painter, const LanesPicture& picture);

// The part of a line (x ascending) between two verticals: drawings in files know no clip.
[[nodiscard]] QPolygonF cutToWidth(const QPolygonF& line, double left, double right);

struct LanesCursors {
    std::optional<double> cursor, anchor;
    bool held = false;
    std::vector<LaneReading> readings;
};
void paintCursors(QPainter& painter, const LanesPicture& picture, const LanesCursors& cursors);

// "4.40 s" or "12:04.4", counted from the zero of the segment that holds the moment.
[[nodiscard]] QString momentText(const LanesContent& content, Range seen, double t);

} // namespace rw
