// Parts of a chart that the plot library does not bring: regions, limits, direct labels, titles, cursor with readout,
// and ticks by our own rules. Private to this room.
#pragma once

#include "plotting/chart.h"
#include "plotting/chart_labels.h"

#include <qcustomplot.h>

namespace rw {

// What the items draw from; owned by the plot, filled by the chart.
struct ChartScene {
    ChartContent content;
    Look look;
    std::optional<double> cursor, anchor;
    std::optional<QPointF> tracer;
    std::function<QStringList(double)> readout;
    bool focused = false;
    bool printing = false;                      // no cursor, no focus
    std::optional<std::pair<int, int>> pointed; // series and index of the point under the pointer
    std::vector<QRectF> regionLabels;           // as of the last drawing, like the crowding
    Crowding crowding;

    [[nodiscard]] QColor color(const std::variant<Hue, int>& hue) const;
    [[nodiscard]] QColor color(const ChartSeries& series) const { return series.muted ? look.soft : color(series.hue); }
    [[nodiscard]] QStringList readoutAt(double x) const;
};

// Draws them; what is drawn on the overlay knows what the regions' labels took.
class ScenePainter {
public:
    ScenePainter(QCustomPlot& plot, ChartScene& scene)
        : plot_(plot)
        , scene_(scene) {}
    void drawRegions(QCPPainter& painter); // under everything
    // Covers what the lines draw outside of the plot: drawings in files know no clip. Only when printing.
    void drawMask(QCPPainter& painter);
    void drawOverlay(QCPPainter& painter); // limits, markers, labels, titles
    void drawCursor(QCPPainter& painter);  // on a buffered layer of its own

private:
    [[nodiscard]] QRectF inside() const { return plot_.axisRect()->rect(); }
    [[nodiscard]] QPointF pixel(double x, double y) const {
        return {plot_.xAxis->coordToPixel(x), plot_.yAxis->coordToPixel(y)};
    }
    void drawTitles(QCPPainter& painter);
    void drawLimits(QCPPainter& painter);
    void drawMarkers(QCPPainter& painter);
    void drawLabels(QCPPainter& painter, const std::vector<QPolygonF>& lines);
    void drawPlate(QCPPainter& painter, const QRectF& place) const;
    [[nodiscard]] std::vector<QPolygonF> takeLines();
    [[nodiscard]] QRectF placeOfLimit(const Crowding& taken, double y, QSizeF text) const;
    [[nodiscard]] QPolygonF linePixels(const std::vector<double>& x, const std::vector<double>& y) const;
    void drawPointed(QCPPainter& painter);
    void drawReadout(QCPPainter& painter, const QStringList& lines, double x);
    void drawRing(QCPPainter& painter, QPointF at, const QColor& color, double radius);

    QCustomPlot& plot_;
    ChartScene& scene_;
};

// Few round ticks: about one every "room" pixels.
class RoundTicker : public QCPAxisTicker {
public:
    RoundTicker(const QCPAxis* axis, double room, ChartAxis::Kind kind)
        : axis_(axis)
        , room_(room)
        , kind_(kind) {}
    void generate(const QCPRange& range, const QLocale& locale, QChar formatChar, int precision, QVector<double>& ticks,
                  QVector<double>* subTicks, QVector<QString>* tickLabels) override;

private:
    void generateDates(const QCPRange& range, int most, QVector<double>& ticks, QVector<QString>& labels) const;
    const QCPAxis* axis_;
    double room_;
    ChartAxis::Kind kind_;
};

} // namespace rw
