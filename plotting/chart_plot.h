// Turns a chart's content into objects of the plot library. Private to this room.
#pragma once

#include "plotting/chart_items.h"
#include "plotting/plot_widget.h"

namespace rw {

class ChartPlot {
public:
    explicit ChartPlot(QWidget* parent);

    void build(ChartContent content, const Look& look);
    void restyle(const Look& look); // colours and fonts only
    void setMargins(int left, int right);
    void replot() { plot_->replot(QCustomPlot::rpQueuedReplot); }
    void replotCursor();
    void paint(QPainter& painter, const QRectF& rect); // vectors, light look, no cursor

    [[nodiscard]] QCustomPlot& plot() { return *plot_; }
    [[nodiscard]] const QCustomPlot& plot() const { return *plot_; }
    ChartScene scene;

private:
    void addBand(const ChartBand& band);
    void addSeries(const ChartSeries& series);
    void styleAxes();
    void layOut();
    PlotWidget* plot_; // child of the widget, which owns it
    ScenePainter painter_{*plot_, scene};
    int leftMargin_ = 0, rightMargin_ = 0;
};

} // namespace rw
