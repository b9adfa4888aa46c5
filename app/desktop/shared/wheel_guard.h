// A wheel over a window scrolls it; it changes a value only where a click said so. Fields, choices, spin boxes and
// sliders that slide under the pointer while a page scrolls keep their value and let the page scroll on.
#pragma once

#include <QObject>
#include <QPointer>
#include <QWidget>

namespace rw {

// Watches every widget of the application while it lives: a control takes the wheel only while it has the focus, was
// clicked into, and the pointer has not left it since.
class WheelGuard : public QObject {
    Q_OBJECT
public:
    explicit WheelGuard(QObject* parent = nullptr);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QPointer<QWidget> clicked_;
};

} // namespace rw
