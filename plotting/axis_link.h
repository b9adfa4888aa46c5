// One axis shared by several charts: what is seen of it, and where its cursors stand.
// Charts, lanes and ribbons hold a pointer to a link, show its range, and move it; they know nothing of each other.
// All values are in the axis's own unit (seconds, metres, metres per second). Interface thread only.
#pragma once

#include "plotting/range.h"

#include <QObject>

#include <optional>
#include <utility>

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
    void setCursor(std::optional<double> at) { put(cursor_, known(at)); }
    void setPinned(bool pinned) { put(pinned_, pinned); }
    void setAnchor(std::optional<double> at) { put(anchor_, known(at)); }

signals:
    void boundsChanged();
    void rangeChanged();
    void cursorChanged(); // cursor, anchor or pin

private:
    [[nodiscard]] static std::optional<double> known(std::optional<double> at); // none for what is no number
    template<class Part>
    void put(Part& part, Part value) { // of what cursorChanged() tells
        if (std::exchange(part, value) != value) emit cursorChanged();
    }

    Range bounds_{0.0, 1.0};
    Range range_{0.0, 1.0};
    double smallestSpan_ = 1e-6;
    std::optional<double> cursor_, anchor_;
    bool pinned_ = false;
};

} // namespace rw
