// The plot library's widget as charts use it: quiet under the pointer and where there is nothing to draw on (a chart
// that is hidden or squeezed to nothing keeps its last size). Private to this room.
#pragma once

#include <QPicture>
#include <QResizeEvent>

#include <cmath>
#include <functional>
#include <qcustomplot.h>
#include <utility>

namespace rw {

// Part of a plot that is drawn by a function, beside the axes too; not touched by the pointer.
class DrawnItem : public QCPAbstractItem {
public:
    DrawnItem(QCustomPlot* plot, std::function<void(QCPPainter&)> draw)
        : QCPAbstractItem(plot)
        , draw_(std::move(draw)) {
        setClipToAxisRect(false);
        setSelectable(false);
    }
    double selectTest(const QPointF&, bool, QVariant*) const override { return -1.0; }

protected:
    void draw(QCPPainter* painter) override { draw_(*painter); }

private:
    std::function<void(QCPPainter&)> draw_;
};

class PlotWidget : public QCustomPlot {
public:
    explicit PlotWidget(QWidget* parent)
        : QCustomPlot(parent) {
        setAttribute(Qt::WA_TransparentForMouseEvents);
        setFocusPolicy(Qt::NoFocus);
        setInteractions({});
    }
    void addDrawn(const char* layer, std::function<void(QCPPainter&)> by) {
        (new DrawnItem(this, std::move(by)))->setLayer(QLatin1String(layer));
    }
    // As it is styled now, in vectors.
    void drawVectors(QPainter& painter, const QRectF& rect) {
        const QRect viewport = this->viewport();
        QPicture picture;
        {
            QCPPainter recorder;
            recorder.begin(&picture);
            recorder.setMode(QCPPainter::pmVectorized);
            recorder.setMode(QCPPainter::pmNoCaching);
            toPainter(&recorder, static_cast<int>(std::lround(rect.width())),
                      static_cast<int>(std::lround(rect.height())));
        }
        painter.drawPicture(rect.topLeft(), picture);
        setViewport(viewport);
    }

protected:
    void resizeEvent(QResizeEvent* event) override {
        if (!event->size().isEmpty()) QCustomPlot::resizeEvent(event);
    }
};

} // namespace rw
