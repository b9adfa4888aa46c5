#include "app/desktop/shared/widgets.h"

#include <QApplication>
#include <QEvent>
#include <QFontMetricsF>
#include <QFrame>
#include <QHelpEvent>
#include <QPainter>
#include <QPainterPath>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace rw {

QColor toneColour(const Look& look, Tone tone) {
    switch (tone) {
    case Tone::Soft:
        return look.soft;
    case Tone::Accent:
        return look.accent;
    case Tone::Warn:
        return look.warn;
    case Tone::Bad:
        return look.bad;
    case Tone::Ink:
        break;
    }
    return look.ink;
}

TextLabel::TextLabel(const QString& text, Type type, Tone tone)
    : QLabel(text)
    , tone_(tone) {
    setTextFormat(Qt::PlainText);
    setFont(rw::font(type));
    recolour();
}

void TextLabel::setTone(Tone tone) {
    if (tone == tone_) return;
    tone_ = tone;
    recolour();
}

void TextLabel::tell(const QString& text) {
    setText(text);
    setVisible(!text.isEmpty());
}

void TextLabel::changeEvent(QEvent* event) {
    QLabel::changeEvent(event);
    const QEvent::Type type = event->type();
    if (type == QEvent::PaletteChange || type == QEvent::ApplicationPaletteChange || type == QEvent::StyleChange)
        recolour();
}

void TextLabel::recolour() {
    // The application says light or dark: this label's own palette holds the colour of the last look.
    const QColor colour = toneColour(Look::of(QApplication::palette()), tone_);
    if (palette().color(QPalette::WindowText) == colour) return;
    QPalette own = palette();
    own.setColor(QPalette::WindowText, colour);
    setPalette(own);
}

TextLabel* paragraph(const QString& text, Type type, Tone tone) {
    auto* label = new TextLabel(text, type, tone);
    label->setWordWrap(true);
    return label;
}

ComplaintLabel::ComplaintLabel()
    : TextLabel(QString(), Type::Body, Tone::Bad) {
    setWordWrap(true);
    hide();
}

ShortLabel::ShortLabel(Type type, Tone tone)
    : type_(type)
    , tone_(tone) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
}

void ShortLabel::setText(const QString& strong, const QString& rest) {
    if (strong == strong_ && rest == rest_) return;
    strong_ = strong;
    rest_ = rest;
    setAccessibleName(text());
    updateGeometry();
    update();
}

double ShortLabel::fullWidth() const {
    const QFontMetricsF bold(rw::font(Type::Strong)), plain(rw::font(type_));
    return std::ceil(bold.horizontalAdvance(strong_) + plain.horizontalAdvance(rest_)) + 1.0;
}

QSize ShortLabel::sizeHint() const {
    return {static_cast<int>(fullWidth()), static_cast<int>(std::ceil(QFontMetricsF(rw::font(type_)).height()))};
}

void ShortLabel::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    const QFontMetricsF bold(rw::font(Type::Strong)), plain(rw::font(type_));
    const QString head = bold.elidedText(strong_, Qt::ElideRight, width());
    setInk(painter, Type::Strong, look.ink);
    painter.drawText(rect(), Qt::AlignLeft | Qt::AlignVCenter, head);
    const double used = bold.horizontalAdvance(head);
    setInk(painter, type_, toneColour(look, tone_));
    painter.drawText(QRectF(used, 0.0, width() - used, height()), Qt::AlignLeft | Qt::AlignVCenter,
                     plain.elidedText(rest_, Qt::ElideRight, width() - used));
}

bool ShortLabel::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip && toolTip().isEmpty()) {
        const QString whole = fullWidth() > width() + 1.0 ? text().toHtmlEscaped() : QString();
        QToolTip::showText(static_cast<QHelpEvent*>(event)->globalPos(), whole, this);
        return true;
    }
    return QWidget::event(event);
}

FigureLabel::FigureLabel(Type type)
    : type_(type) {
    setSizePolicy(QSizePolicy::Minimum, QSizePolicy::Fixed);
}

void FigureLabel::setFigure(const QString& figure, const QString& unit, const QString& note) {
    if (figure == figure_ && unit == unit_ && note == note_) return;
    figure_ = figure;
    unit_ = unit;
    note_ = note;
    setAccessibleName(text());
    updateGeometry();
    update();
}

QString FigureLabel::text() const {
    QString whole = figure_;
    if (!unit_.isEmpty()) whole += QChar(0x00a0) + unit_;
    if (!note_.isEmpty()) whole += u' ' + note_;
    return whole;
}

void FigureLabel::setAlignment(Qt::Alignment alignment) {
    alignment_ = alignment;
    update();
}

QSize FigureLabel::sizeHint() const {
    const QFontMetricsF small(rw::font(Type::Small));
    double width = figuresWidth(rw::font(type_), figure_);
    if (!unit_.isEmpty()) width += 4.0 + small.horizontalAdvance(unit_);
    if (!note_.isEmpty()) width += gridStep + figuresWidth(rw::font(Type::Small), note_);
    return {static_cast<int>(std::ceil(width)) + 1,
            static_cast<int>(std::ceil(QFontMetricsF(rw::font(type_)).height()))};
}

void FigureLabel::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    const QFont large = rw::font(type_), small = rw::font(Type::Small);
    const QFontMetricsF largeMetrics(large), smallMetrics(small);
    double x = alignment_ & Qt::AlignRight ? width() - sizeHint().width() : 0.0;
    const double baseline = 0.5 * (height() + largeMetrics.ascent() - largeMetrics.descent());
    const QRectF largeBox(x, baseline - largeMetrics.ascent(), figuresWidth(large, figure_), largeMetrics.height());
    setInk(painter, large, look.ink);
    drawFigures(painter, largeBox, Qt::AlignLeft | Qt::AlignTop, figure_);
    x = largeBox.right();
    setInk(painter, small, look.soft);
    if (!unit_.isEmpty()) {
        painter.drawText(QPointF(x + 4.0, baseline), unit_);
        x += 4.0 + smallMetrics.horizontalAdvance(unit_);
    }
    if (!note_.isEmpty())
        drawFigures(
            painter,
            QRectF(x + gridStep, baseline - smallMetrics.ascent(), figuresWidth(small, note_), smallMetrics.height()),
            Qt::AlignLeft | Qt::AlignTop, note_);
}

QFrame* thinRule(Qt::Orientation orientation) {
    auto* rule = new QFrame;
    rule->setObjectName(QStringLiteral("rule"));
    if (orientation == Qt::Horizontal)
        rule->setFixedHeight(1);
    else
        rule->setFixedWidth(1);
    return rule;
}

FoldHead::FoldHead(const QString& title, bool small)
    : small_(small) {
    setText(title);
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setCursor(Qt::PointingHandCursor);
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    setAccessibleName(title);
}

void FoldHead::setSummary(const QString& summary) {
    summary_ = summary;
    setAccessibleDescription(summary);
    update();
}

QSize FoldHead::sizeHint() const { return {20 * gridStep, small_ ? 3 * gridStep : 4 * gridStep}; }

void FoldHead::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Look& look = Look::of(this);
    const QFont head = rw::font(small_ ? Type::Small : Type::Strong);
    painter.setFont(head);
    const QColor ink = small_ ? look.soft : look.ink;
    painter.setPen(underMouse() ? look.accent : ink);
    const QRectF box = QRectF(rect());
    const double indent = 14.0;
    painter.drawText(box.adjusted(indent, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter, text());

    const double middle = box.center().y();
    QPainterPath arrow;
    if (isChecked()) {
        arrow.moveTo(1.0, middle - 2.0);
        arrow.lineTo(4.5, middle + 2.0);
        arrow.lineTo(8.0, middle - 2.0);
    } else {
        arrow.moveTo(2.5, middle - 3.5);
        arrow.lineTo(6.5, middle);
        arrow.lineTo(2.5, middle + 3.5);
    }
    painter.setPen(QPen(look.soft, 1.4));
    painter.drawPath(arrow);

    const double used = indent + QFontMetricsF(head).horizontalAdvance(text()) + gridStep;
    const QFont small = rw::font(Type::Small);
    setInk(painter, small, look.soft);
    const QString shown = QFontMetricsF(small).elidedText(summary_, Qt::ElideRight, std::max(0.0, box.width() - used));
    painter.drawText(box.adjusted(used, 0.0, 0.0, 0.0), Qt::AlignRight | Qt::AlignVCenter, shown);
    if (hasFocus()) {
        painter.setPen(QPen(look.accent, 1.0));
        painter.drawRoundedRect(box.adjusted(0.5, 2.5, -0.5, -2.5), 4.0, 4.0);
    }
}

} // namespace rw
