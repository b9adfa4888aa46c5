// Pointer, wheel and keys along a shared axis: one way for charts and lanes. Drag pans, wheel zooms at the pointer
// (shift or sideways: pans); left/right move the cursor a pixel (ctrl: ten), shift+left/right pan, plus/minus zoom,
// Home shows all. Private to this room.
#pragma once

#include "plotting/axis_link.h"

#include <QPointF>

#include <optional>

class QKeyEvent;
class QMouseEvent;
class QWheelEvent;
class QWidget;

namespace rw {

class AxisHand {
public:
    // value: of the axis under the pointer, as all below. Left button only.
    void press(const QMouseEvent& event, double value);
    // True while it drags; then the axis has moved.
    bool drag(const QMouseEvent& event, double value, AxisLink& axis, QWidget& widget);
    // True where the button came up where it went down: a click.
    bool release(const QMouseEvent& event, QWidget& widget);

    static void wheel(QWheelEvent& event, double value, AxisLink& axis);
    // False for a key that is none of these. pixel: of the axis's unit.
    static bool key(const QKeyEvent& event, double pixel, AxisLink& axis);

private:
    std::optional<QPointF> pressed_;
    bool dragged_ = false;
    double from_ = 0.0; // value under the pointer when the drag began
};

} // namespace rw
