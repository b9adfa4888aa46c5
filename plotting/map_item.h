// What a map draws beside its shades. Private to this room.
#pragma once

#include "plotting/contour.h"
#include "plotting/map_chart.h"

#include <qcustomplot.h>

#include <cmath>
#include <optional>
#include <utility>

namespace rw {

inline double logOf(double y) { return std::log10(y); }

// Owned by the plot; content, look and chosen place are the chart's.
class MapItem : public QCPAbstractItem {
public:
    MapItem(QCustomPlot* plot, MapContent& content, Look& look, std::optional<std::pair<int, int>>& chosen, bool under)
        : QCPAbstractItem(plot)
        , content_(content)
        , look_(look)
        , chosen_(chosen)
        , under_(under) {}
    double selectTest(const QPointF&, bool, QVariant*) const override { return -1.0; }

protected:
    void draw(QCPPainter* painter) override;

private:
    struct Words; // what is written already
    [[nodiscard]] QPointF pixel(double x, double y) const;
    [[nodiscard]] Contour contour(const std::vector<std::vector<double>>& z, double level) const; // in pixels
    void drawShades(QPainter& painter) const;
    void drawOver(QPainter& painter) const;
    void drawBorders(QPainter& painter) const;
    void drawMark(QPainter& painter, const MapPoint& point) const;
    void writePoint(QPainter& painter, const MapPoint& point, Words& words) const;
    void writeNames(QPainter& painter, Words& words) const;
    void writeLevels(QPainter& painter, Words& words) const;
    [[nodiscard]] std::optional<QRectF> roomIn(int region, QSizeF size, const Words& words) const; // -1: outside
    [[nodiscard]] int regionAt(QPointF pixel) const;
    void drawTitles(QPainter& painter, const QRectF& inside) const;

    MapContent& content_;
    Look& look_;
    std::optional<std::pair<int, int>>& chosen_;
    bool under_;
};

} // namespace rw
