#include "app/desktop/shared/fold.h"

#include "plotting/look.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>

namespace rw {

FoldHead::FoldHead(const QString& title, bool small, QWidget* parent)
    : QAbstractButton(parent)
    , small_(small) {
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
    painter.setFont(small);
    painter.setPen(look.soft);
    const QString shown = QFontMetricsF(small).elidedText(summary_, Qt::ElideRight, std::max(0.0, box.width() - used));
    painter.drawText(box.adjusted(used, 0.0, 0.0, 0.0), Qt::AlignRight | Qt::AlignVCenter, shown);
    if (hasFocus()) {
        painter.setPen(QPen(look.accent, 1.0));
        painter.drawRoundedRect(box.adjusted(0.5, 2.5, -0.5, -2.5), 4.0, 4.0);
    }
}

} // namespace rw
