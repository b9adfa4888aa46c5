// One axis shared by several charts: what is seen of it, and where its cursors stand.
// Charts, lanes and ribbons hold a pointer to a link, show its range, and move it; they know nothing of each other.
// All values are in the axis's own unit (seconds, metres, metres per second). Interface thread only.
#pragma once

#include "plotting/range.h"

#include <QObject>
#include <QPointF>

#include <optional>

class QKeyEvent;
class QMouseEvent;
class QWheelEvent;
class QWidget;

namespace rw {

class AxisLink : public QObject {
    Q_OBJECT
public:
    explicit AxisLink(QObject* parent = nullptr);

    [[nodiscard]] Range range() const { return range_; }   // what is seen; always inside bounds
    [[nodiscard]] Range bounds() const { return bounds_; } // all there is to see
    [[nodiscard]] std::optional<double> cursor() const { return cursor_; }
    [[nodiscard]] std::optional<double> anchor() const { return anchor_; } // second cursor: differences count from it
    [[nodiscard]] bool pinned() const { return pinned_; }                  // the cursor stays when the pointer moves

    // Sets all there is and shows it whole. A range without extent is widened.
    void setBounds(Range bounds);
    void setSmallestSpan(double span); // zoom stops there; default: bounds / 1e6
    void setRange(Range range);        // moved and shortened to lie inside bounds
    void showAll() { setRange(bounds_); }
    void zoom(double factor, double about); // factor > 1 shows less; the point "about" stays where it is on screen
    void pan(double by);

    // Hovering moves the cursor only while it is not pinned: hover() obeys, setCursor() does not ask.
    void hover(std::optional<double> at);
    void setCursor(std::optional<double> at);
    void setPinned(bool pinned);
    void setAnchor(std::optional<double> at);

signals:
    void boundsChanged();
    void rangeChanged();
    void cursorChanged(); // cursor, anchor or pin

private:
    Range bounds_{0.0, 1.0};
    Range range_{0.0, 1.0};
    double smallestSpan_ = 1e-6;
    std::optional<double> cursor_;
    std::optional<double> anchor_;
    bool pinned_ = false;
};

// Pointer, wheel and keys along a shared axis: one way for charts and lanes. Drag pans, wheel zooms at the pointer
// (shift or sideways: pans); left/right move the cursor a pixel (ctrl: ten), shift+left/right pan, plus/minus zoom,
// Home shows all. Private to this room.
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
