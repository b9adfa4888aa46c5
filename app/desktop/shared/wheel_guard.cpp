#include "app/desktop/shared/wheel_guard.h"

#include "app/desktop/shared/field_edit.h"

#include <QAbstractSpinBox>
#include <QApplication>
#include <QComboBox>
#include <QEvent>
#include <QScrollBar>
#include <QSlider>

namespace rw {

namespace {

bool holdsAValue(const QWidget* widget) {
    return qobject_cast<const FieldEdit*>(widget) || qobject_cast<const QComboBox*>(widget) ||
           qobject_cast<const QAbstractSpinBox*>(widget) || qobject_cast<const QSlider*>(widget);
}

// The control itself, or the one whose line is typed into; null: the wheel is nobody's value here.
QWidget* controlOf(QObject* watched) {
    auto* widget = qobject_cast<QWidget*>(watched);
    if (!widget) return nullptr;
    if (holdsAValue(widget)) return widget;
    QWidget* parent = widget->parentWidget();
    return parent && !widget->isWindow() && qobject_cast<QLineEdit*>(widget) && holdsAValue(parent) ? parent : nullptr;
}

} // namespace

WheelGuard::WheelGuard(QObject* parent)
    : QObject(parent) {
    qApp->installEventFilter(this);
}

bool WheelGuard::eventFilter(QObject* watched, QEvent* event) {
    switch (event->type()) {
    case QEvent::MouseButtonPress:
        if (QWidget* control = controlOf(watched)) clicked_ = control;
        break;
    case QEvent::Leave:
        if (clicked_ && watched == clicked_) clicked_.clear();
        break;
    case QEvent::Wheel:
        if (const QWidget* control = controlOf(watched)) {
            const QWidget* focus = QApplication::focusWidget();
            const bool meant = control == clicked_ && focus && (focus == control || control->isAncestorOf(focus));
            if (!meant) {
                event->ignore(); // goes on to what holds the control
                return true;
            }
        }
        break;
    default:
        break;
    }
    return QObject::eventFilter(watched, event);
}

} // namespace rw
