#include "plotting/axis_view.h"

#include "plotting/look.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace rw {

constexpr double dragStart = 4.0; // logical pixels: less is a click with an unsteady hand
constexpr double zoomStep = 1.25, panStep = 0.1;
constexpr double notch = 120.0; // of a wheel, in Qt's eighths of a degree
constexpr double fastPixels = 10.0;

AxisView::AxisView(QWidget* parent)
    : QWidget(parent) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
}

void AxisView::setLink(AxisLink* link) {
    link_->disconnect(this);
    link_ = link != nullptr ? link : &own_;
    follow();
}

void AxisView::follow() {
    const auto moved = [this] {
        showCursor();
        emit readingChanged();
    };
    connect(link_, &AxisLink::rangeChanged, this, [this] { showRange(); });
    connect(link_, &AxisLink::cursorChanged, this, moved);
    if (link_ != &own_)
        connect(link_, &QObject::destroyed, this, [this] {
            link_ = &own_;
            follow();
        });
    showRange();
    moved();
}

Drawing AxisView::drawing() const {
    return {drawingName(), size(), Look::light().ground,
            [this](QPainter& painter, const QRectF& rect) { paintOn(painter, rect); }, [this] { return csv(); }};
}

void AxisView::mouseMoveEvent(QMouseEvent* event) {
    const bool far = pressed_ && (event->position() - *pressed_).manhattanLength() > dragStart;
    if (!pressed_ || (!dragged_ && !far)) return pointTo(event->position());
    if (!dragged_) setCursor(Qt::ClosedHandCursor);
    dragged_ = true;
    link_->pan(from_ - valueAtX(event->position().x()));
}

void AxisView::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) return;
    pressed_ = event->position();
    dragged_ = false;
    from_ = valueAtX(event->position().x());
}

void AxisView::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !pressed_) return;
    pressed_.reset();
    unsetCursor();
    if (!dragged_) click(event->position());
}

void AxisView::wheelEvent(QWheelEvent* event) {
    const Range range = link_->range();
    const double notches = event->angleDelta().y() / notch;
    if (event->modifiers().testFlag(Qt::ShiftModifier) || event->angleDelta().x() != 0) {
        const double along = event->angleDelta().x() != 0 ? event->angleDelta().x() / notch : notches;
        link_->pan(-panStep * along * range.span());
    } else { // beside the plot: about its end
        link_->zoom(std::pow(zoomStep, notches), std::clamp(valueAtX(event->position().x()), range.from, range.to));
    }
    event->accept();
}

void AxisView::leaveEvent(QEvent*) { link_->hover(std::nullopt); }

void AxisView::step(const QKeyEvent& event) {
    const double side = event.key() == Qt::Key_Left ? -1.0 : 1.0, pixel = valueAtX(1.0) - valueAtX(0.0);
    const Range range = link_->range(), bounds = link_->bounds();
    if (event.modifiers().testFlag(Qt::ShiftModifier)) return link_->pan(side * panStep * range.span());
    const double by = event.modifiers().testFlag(Qt::ControlModifier) ? fastPixels * pixel : pixel;
    const double to = std::clamp(link_->cursor().value_or(range.middle()) + side * by, bounds.from, bounds.to);
    link_->setCursor(to);
    if (!range.contains(to)) link_->pan(to - (side < 0.0 ? range.from : range.to));
}

void AxisView::keyPressEvent(QKeyEvent* event) {
    const double here = link_->cursor().value_or(link_->range().middle());
    switch (event->key()) {
    case Qt::Key_Left:
    case Qt::Key_Right:
        return step(*event);
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        return link_->zoom(zoomStep, here);
    case Qt::Key_Minus:
        return link_->zoom(1.0 / zoomStep, here);
    case Qt::Key_Home:
        return link_->showAll();
    default:
        QWidget::keyPressEvent(event);
    }
}

} // namespace rw
