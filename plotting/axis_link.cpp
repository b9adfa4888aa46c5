#include "plotting/axis_link.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>
#include <QWidget>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

bool finite(Range range) { return std::isfinite(range.from) && std::isfinite(range.to); }

constexpr double dragStart = 4.0; // logical pixels: less is a click with an unsteady hand
constexpr double zoomStep = 1.25, panStep = 0.1;
constexpr double notch = 120.0; // of a wheel, in Qt's eighths of a degree
constexpr double fastPixels = 10.0;

void step(const QKeyEvent& event, double pixel, AxisLink& axis) {
    const double side = event.key() == Qt::Key_Left ? -1.0 : 1.0;
    const Range range = axis.range();
    if (event.modifiers().testFlag(Qt::ShiftModifier)) return axis.pan(side * panStep * range.span());
    const double by = event.modifiers().testFlag(Qt::ControlModifier) ? fastPixels * pixel : pixel;
    const double here = axis.cursor().value_or(range.middle());
    const double to = std::clamp(here + side * by, axis.bounds().from, axis.bounds().to);
    axis.setCursor(to);
    if (!range.contains(to)) axis.pan(to - (side < 0.0 ? range.from : range.to));
}

} // namespace

AxisLink::AxisLink(QObject* parent)
    : QObject(parent) {}

void AxisLink::setBounds(Range bounds) {
    if (!finite(bounds)) return;
    if (bounds.span() <= 0.0) bounds = {bounds.from - 0.5, bounds.from + 0.5};
    if (bounds == bounds_) return;
    bounds_ = bounds;
    smallestSpan_ = bounds.span() * 1e-6;
    emit boundsChanged();
    setRange(bounds);
}

void AxisLink::setSmallestSpan(double span) { smallestSpan_ = std::clamp(span, 1e-12, bounds_.span()); }

void AxisLink::setRange(Range range) {
    if (!finite(range)) return;
    if (range.to < range.from) std::swap(range.from, range.to);
    const double span = std::clamp(range.span(), smallestSpan_, bounds_.span());
    const double from = std::clamp(range.middle() - 0.5 * span, bounds_.from, bounds_.to - span);
    const Range now = span >= bounds_.span() ? bounds_ : Range{from, from + span};
    if (now == range_) return;
    range_ = now;
    emit rangeChanged();
}

void AxisLink::zoom(double factor, double about) {
    if (!(factor > 0.0) || !std::isfinite(about)) return;
    const double span = std::clamp(range_.span() / factor, smallestSpan_, bounds_.span());
    const double share = std::clamp((about - range_.from) / range_.span(), 0.0, 1.0);
    const double from = std::clamp(about - share * span, bounds_.from, bounds_.to - span);
    setRange({from, from + span});
}

void AxisLink::pan(double by) {
    const double from = std::clamp(range_.from + by, bounds_.from, bounds_.to - range_.span());
    setRange({from, from + range_.span()});
}

void AxisLink::hover(std::optional<double> at) {
    if (!pinned_) setCursor(at);
}

void AxisLink::setCursor(std::optional<double> at) {
    if (at && !std::isfinite(*at)) at.reset();
    if (at == cursor_) return;
    cursor_ = at;
    emit cursorChanged();
}

void AxisLink::setPinned(bool pinned) {
    if (pinned == pinned_) return;
    pinned_ = pinned;
    emit cursorChanged();
}

void AxisLink::setAnchor(std::optional<double> at) {
    if (at && !std::isfinite(*at)) at.reset();
    if (at == anchor_) return;
    anchor_ = at;
    emit cursorChanged();
}

void AxisHand::press(const QMouseEvent& event, double value) {
    if (event.button() != Qt::LeftButton) return;
    pressed_ = event.position();
    dragged_ = false;
    from_ = value;
}

bool AxisHand::drag(const QMouseEvent& event, double value, AxisLink& axis, QWidget& widget) {
    if (!pressed_ || (!dragged_ && (event.position() - *pressed_).manhattanLength() <= dragStart)) return false;
    if (!dragged_) widget.setCursor(Qt::ClosedHandCursor);
    dragged_ = true;
    axis.pan(from_ - value);
    return true;
}

bool AxisHand::release(const QMouseEvent& event, QWidget& widget) {
    if (event.button() != Qt::LeftButton || !pressed_) return false;
    pressed_.reset();
    widget.unsetCursor();
    return !dragged_;
}

void AxisHand::wheel(QWheelEvent& event, double value, AxisLink& axis) {
    const double notches = event.angleDelta().y() / notch;
    if (event.modifiers().testFlag(Qt::ShiftModifier) || event.angleDelta().x() != 0) {
        const double along = event.angleDelta().x() != 0 ? event.angleDelta().x() / notch : notches;
        axis.pan(-panStep * along * axis.range().span());
    } else {
        axis.zoom(std::pow(zoomStep, notches), value);
    }
    event.accept();
}

bool AxisHand::key(const QKeyEvent& event, double pixel, AxisLink& axis) {
    const double here = axis.cursor().value_or(axis.range().middle());
    switch (event.key()) {
    case Qt::Key_Left:
    case Qt::Key_Right:
        step(event, pixel, axis);
        return true;
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        axis.zoom(zoomStep, here);
        return true;
    case Qt::Key_Minus:
        axis.zoom(1.0 / zoomStep, here);
        return true;
    case Qt::Key_Home:
        axis.showAll();
        return true;
    default:
        return false;
    }
}

} // namespace rw
