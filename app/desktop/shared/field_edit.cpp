#include "app/desktop/shared/field_edit.h"

#include "plotting/look.h"

#include <QFocusEvent>
#include <QFontMetricsF>
#include <QKeyEvent>
#include <QPainter>
#include <QWheelEvent>

namespace rw {

namespace {

constexpr int margin = 6;
constexpr int fast = 10; // steps of page up and page down

} // namespace

FieldEdit::FieldEdit(QWidget* parent)
    : QLineEdit(parent) {
    setObjectName(QStringLiteral("field"));
    setFrame(false);
    setAlignment(Qt::AlignRight);
    setAcceptDrops(false); // a dropped file is for the window
    setFixedHeight(3 * gridStep);
    setStyleSheet(QStringLiteral("QLineEdit#field { border: none; background: transparent; padding: 0 4px; }"));
}

void FieldEdit::setUncertainty(const QString& text) {
    uncertainty_ = text;
    update();
}

void FieldEdit::setState(State state) {
    state_ = state;
    update();
}

void FieldEdit::paintEvent(QPaintEvent* event) {
    const Look& look = Look::of(this);
    QPainter painter(this);
    const QColor line = state_ == State::Wrong ? look.bad : look.accent;
    if (hasFocus()) {
        painter.fillRect(rect(), look.sheet);
        painter.setPen(QPen(line, 1.0));
        painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
        painter.end();
        QLineEdit::paintEvent(event);
        return;
    }
    if (underMouse()) painter.fillRect(rect(), look.wash);
    QRectF box = QRectF(rect()).adjusted(margin, 0.0, -margin, 0.0);
    if (!uncertainty_.isEmpty() && !text().isEmpty()) {
        const QString tail = QStringLiteral(" ± ") + uncertainty_;
        painter.setFont(rw::font(Type::Small));
        painter.setPen(look.soft);
        drawFigures(painter, box, Qt::AlignRight | Qt::AlignVCenter, tail);
        box.setRight(box.right() - figuresWidth(rw::font(Type::Small), tail));
    }
    const bool changed = state_ == State::Changed;
    painter.setFont(rw::font(changed ? Type::Strong : Type::Body));
    painter.setPen(state_ == State::Wrong ? look.bad : changed ? look.accent : text().isEmpty() ? look.soft : look.ink);
    const QString shown = text().isEmpty() ? placeholderText() : text();
    drawFigures(painter, box, Qt::AlignRight | Qt::AlignVCenter, shown);
    if (state_ != State::Same) painter.fillRect(QRectF(margin, height() - 2.0, width() - 2.0 * margin, 1.0), line);
}

void FieldEdit::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Backspace && event->modifiers() == Qt::ControlModifier)
        emit putBackWanted();
    else if (event->key() == Qt::Key_Up)
        emit stepped(1);
    else if (event->key() == Qt::Key_Down)
        emit stepped(-1);
    else if (event->key() == Qt::Key_PageUp)
        emit stepped(fast);
    else if (event->key() == Qt::Key_PageDown)
        emit stepped(-fast);
    else
        QLineEdit::keyPressEvent(event);
}

// Only in the field that is being edited: a wheel over the others scrolls the panel.
void FieldEdit::wheelEvent(QWheelEvent* event) {
    if (!hasFocus() || event->angleDelta().y() == 0) {
        event->ignore();
        return;
    }
    emit stepped(event->angleDelta().y() > 0 ? 1 : -1);
    event->accept();
}

void FieldEdit::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    emit focused();
}

void FieldEdit::focusOutEvent(QFocusEvent* event) {
    QLineEdit::focusOutEvent(event);
    emit left();
}

} // namespace rw
