#include "app/desktop/shared/field_edit.h"

#include "plotting/look.h"

#include <QAbstractSpinBox>
#include <QApplication>
#include <QComboBox>
#include <QEvent>
#include <QFocusEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QSlider>
#include <QWheelEvent>

namespace rw {

namespace {

constexpr int margin = 6;
constexpr int fast = 10; // steps of page up and page down

QString shortened(const QString& text, const QFont& font, double room) {
    QString head = text;
    while (!head.isEmpty() && figuresWidth(font, head + u'…') > room)
        head.chop(1);
    return head + u'…';
}

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

FieldEdit::FieldEdit(QWidget* parent)
    : QLineEdit(parent) {
    setObjectName(QStringLiteral("field"));
    setFrame(false);
    setAlignment(Qt::AlignRight);
    setAcceptDrops(false); // a dropped file is for the window
    setFixedHeight(3 * gridStep);
    connect(this, &QLineEdit::textChanged, this, &FieldEdit::tellWhole);
    setStyleSheet(QStringLiteral("QLineEdit#field { border: none; background: transparent; padding: 0 4px; }"));
}

void FieldEdit::setUncertainty(const QString& text) {
    uncertainty_ = text;
    tellWhole();
    update();
}

void FieldEdit::setEstimated(bool estimated) {
    estimated_ = estimated;
    update();
}

void FieldEdit::setState(State state) {
    state_ = state;
    tellWhole();
    update();
}

void FieldEdit::setHelp(const QString& help) {
    help_ = help;
    tellWhole();
}

QFont FieldEdit::valueFont() const { return rw::font(state_ == State::Changed ? Type::Strong : Type::Body); }

QString FieldEdit::tail() const {
    return uncertainty_.isEmpty() || text().isEmpty() ? QString() : QStringLiteral(" ± ") + uncertainty_;
}

// The value comes first: it gives way only when it alone is too long, and then at its right end.
FieldEdit::Painted FieldEdit::painted() const {
    const double room = width() - 2.0 * margin;
    const QFont body = valueFont(), small = rw::font(Type::Small);
    const QString value = text().isEmpty() ? placeholderText() : text();
    const double left = room - figuresWidth(body, value);
    if (left < 0.0) return {shortened(value, body, room), {}, false};
    if (figuresWidth(small, tail()) <= left) return {value, tail(), true};
    const QString mark = QStringLiteral(" ±…");
    return {value, figuresWidth(small, mark) <= left ? mark : QString(), false};
}

void FieldEdit::tellWhole() {
    const QString value = text() + tail();
    QString tip = help_;
    if (!painted().whole) tip = tip.isEmpty() ? value : value + QStringLiteral("\n\n") + tip;
    if (tip != toolTip()) setToolTip(tip);
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
    const Painted shown = painted();
    QRectF box = QRectF(rect()).adjusted(margin, 0.0, -margin, 0.0);
    setInk(painter, Type::Small, look.soft);
    drawFigures(painter, box, Qt::AlignRight | Qt::AlignVCenter, shown.tail);
    box.setRight(box.right() - figuresWidth(painter.font(), shown.tail));
    setInk(painter, valueFont(),
           state_ == State::Wrong           ? look.bad
           : state_ == State::Changed       ? look.accent
           : text().isEmpty() || estimated_ ? look.soft
                                            : look.ink);
    drawFigures(painter, box, Qt::AlignRight | Qt::AlignVCenter, shown.value);
    if (state_ != State::Same) painter.fillRect(QRectF(margin, height() - 2.0, width() - 2.0 * margin, 1.0), line);
}

bool FieldEdit::event(QEvent* event) {
    if (event->type() == QEvent::ShortcutOverride) {
        const auto* key = static_cast<QKeyEvent*>(event);
        if (key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) {
            event->ignore(); // the line would take them for its own
            return false;
        }
    }
    return QLineEdit::event(event);
}

void FieldEdit::resizeEvent(QResizeEvent* event) {
    QLineEdit::resizeEvent(event);
    tellWhole();
}

bool FieldEdit::focusNextPrevChild(bool next) {
    return (tabWay_ && tabWay_(next)) || QLineEdit::focusNextPrevChild(next);
}

void FieldEdit::keyPressEvent(QKeyEvent* event) {
    if (event->matches(QKeySequence::Undo) || event->matches(QKeySequence::Redo))
        event->ignore();
    else if (event->text() == QStringLiteral("±"))
        emit uncertaintyWanted();
    else if (event->key() == Qt::Key_Backspace && event->modifiers() == Qt::ControlModifier)
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

// Only where a click said that this field is meant: a wheel over the others scrolls the panel.
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
