// What a map draws beside its shades. Private to this room.
#pragma once

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
    [[nodiscard]] QPointF pixel(double x, double y) const;
    void drawOver(QPainter& painter) const;
    void drawBorders(QPainter& painter) const;
    void drawNames(QPainter& painter, std::vector<QRectF>& taken) const;
    [[nodiscard]] std::optional<QPointF> middleOf(int region) const; // -1: outside
    void say(QPainter& painter, QPointF centre, const QString& words, Type type, const QColor& color) const;
    void drawPoint(QPainter& painter, const MapPoint& point, std::vector<QRectF>& taken) const;
    void drawTitles(QPainter& painter, const QRectF& inside) const;

    MapContent& content_;
    Look& look_;
    std::optional<std::pair<int, int>>& chosen_;
    bool under_;
};

} // namespace rw
