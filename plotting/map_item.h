// What a map draws beside its shades. Private to this room.
#pragma once

#include "plotting/contour.h"
#include "plotting/map_chart.h"

#include <qcustomplot.h>

#include <cmath>
#include <optional>
#include <utility>

namespace rw {

// Up it is logarithmic: a linear axis of the logarithm.
inline double logOf(double y) { return std::log10(y); }

struct MapScene { // what is drawn
    MapContent content;
    Look look;
    std::optional<std::pair<int, int>> chosen;
};

// Draws it over the axes of the plot.
class MapPainter {
public:
    MapPainter(QCustomPlot& plot, const MapScene& scene)
        : plot_(plot)
        , content_(scene.content)
        , look_(scene.look)
        , chosen_(scene.chosen) {}
    void drawUnder(QPainter& painter) const;
    void drawOver(QPainter& painter) const;
    [[nodiscard]] QPointF pixel(double x, double y) const;
    [[nodiscard]] std::pair<std::size_t, std::size_t> nearest(QPointF pixel) const; // place of the grid, not empty

private:
    struct Words; // what is written already
    [[nodiscard]] Contour contour(const std::vector<std::vector<double>>& z, double level) const; // in pixels
    void drawShades(QPainter& painter) const;
    void drawMap(QPainter& painter) const;
    void drawBorders(QPainter& painter) const;
    void drawMark(QPainter& painter, const MapPoint& point) const;
    void writePoint(QPainter& painter, const MapPoint& point, Words& words) const;
    void writeNames(QPainter& painter, Words& words) const;
    void writeLevels(QPainter& painter, Words& words) const;
    [[nodiscard]] std::optional<QRectF> roomIn(int region, QSizeF size, const Words& words) const; // -1: outside
    [[nodiscard]] std::vector<double> xPixels() const;                                             // of the grid
    [[nodiscard]] std::vector<double> yPixels() const;
    [[nodiscard]] int regionAt(std::size_t i, std::size_t j) const;
    void drawTitles(QPainter& painter, const QRectF& inside) const;

    QCustomPlot& plot_;
    const MapContent& content_;
    const Look& look_;
    const std::optional<std::pair<int, int>>& chosen_;
};

} // namespace rw
