// A widget along a shared axis, of charts and lanes: one way to follow a link, to move it by pointer, wheel and keys,
// and to copy and export what is drawn. Drag pans, wheel zooms at the pointer (shift or sideways: pans); left/right
// move the cursor a pixel (ctrl: ten), shift+left/right pan, plus/minus zoom, Home shows all.
#pragma once

#include "plotting/axis_link.h"
#include "plotting/export.h"

#include <QPointF>
#include <QWidget>

#include <optional>

namespace rw {

class AxisView : public QWidget {
    Q_OBJECT
public:
    // Shares the horizontal axis. Without a call the view has a link of its own, fitted to its content; a link that is
    // set keeps its own bounds. The link must outlive the view or be replaced (nullptr: own link again).
    void setLink(AxisLink* link);
    [[nodiscard]] AxisLink* link() const { return link_; }

    // The picture at a size in logical pixels, in the light look: for pages and files.
    virtual void paintOn(QPainter& painter, const QRectF& rect) const = 0;
    [[nodiscard]] Drawing drawing() const; // what the context menu copies and exports

signals:
    void readingChanged(); // the cursor moved over this view

protected:
    explicit AxisView(QWidget* parent);
    [[nodiscard]] virtual QString drawingName() const = 0;
    [[nodiscard]] virtual QString csv() const = 0;
    [[nodiscard]] virtual double valueAtX(double pixel) const = 0; // of the axis
    virtual void showRange() = 0;                                  // the link shows another stretch
    virtual void showCursor() = 0;
    virtual void pointTo(QPointF at) = 0; // the pointer moved and does not drag
    virtual void click(QPointF at) = 0;   // the button came up where it went down

    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

    AxisLink own_;

private:
    void follow();
    void step(const QKeyEvent& event);

    AxisLink* link_ = &own_; // or a shared one
    std::optional<QPointF> pressed_;
    bool dragged_ = false;
    double from_ = 0.0; // value under the pointer when the drag began
};

} // namespace rw
