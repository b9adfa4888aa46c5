// The plot library's widget, quiet where there is nothing to draw on: a chart that is hidden or squeezed to nothing
// keeps its last size. Private to this room.
#pragma once

#include <QResizeEvent>

#include <qcustomplot.h>

namespace rw {

class PlotWidget : public QCustomPlot {
public:
    using QCustomPlot::QCustomPlot;

protected:
    void resizeEvent(QResizeEvent* event) override {
        if (!event->size().isEmpty()) QCustomPlot::resizeEvent(event);
    }
};

} // namespace rw
