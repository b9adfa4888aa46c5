#include "app/desktop/plan/edge_rail.h"

#include "plotting/look.h"

#include <QPainter>

namespace rw {

EdgeRail::EdgeRail(Qt::Edge edge, QWidget* parent)
    : QAbstractButton(parent)
    , edge_(edge) {
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
    setCursor(Qt::PointingHandCursor);
    setToolTip(tr("Show it, and fold it away again"));
}

void EdgeRail::setWords(const QString& strong, const QString& rest) {
    strong_ = strong, rest_ = rest;
    setAccessibleName(strong);
    setAccessibleDescription(rest);
    update();
}

QSize EdgeRail::sizeHint() const { return {4 * gridStep, 30 * gridStep}; }

void EdgeRail::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    if (isChecked() || underMouse() || hasFocus()) painter.fillRect(rect(), look.wash);
    painter.setPen(QPen(look.rule, 1.0));
    const double side = edge_ == Qt::LeftEdge ? width() - 0.5 : 0.5;
    painter.drawLine(QPointF(side, 0.0), QPointF(side, height()));
    if (hasFocus()) {
        painter.setPen(QPen(look.accent, 1.0));
        painter.drawRect(QRectF(rect()).adjusted(1.5, 1.5, -1.5, -1.5));
    }
    // Read downwards, as on the back of a book.
    painter.translate(width(), 0.0);
    painter.rotate(90.0);
    const QRectF line(2.0 * gridStep, 0.0, height() - 4.0 * gridStep, width());
    painter.setFont(rw::font(Type::SmallStrong));
    painter.setPen(look.ink);
    painter.drawText(line, Qt::AlignLeft | Qt::AlignVCenter, strong_);
    const double taken = painter.fontMetrics().horizontalAdvance(strong_ + QStringLiteral("  "));
    painter.setFont(rw::font(Type::Small));
    painter.setPen(look.soft);
    painter.drawText(line.adjusted(taken, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter,
                     painter.fontMetrics().elidedText(rest_, Qt::ElideRight, static_cast<int>(line.width() - taken)));
}

void EdgeRail::enterEvent(QEnterEvent* event) {
    QAbstractButton::enterEvent(event);
    update();
}

void EdgeRail::leaveEvent(QEvent* event) {
    QAbstractButton::leaveEvent(event);
    update();
}

} // namespace rw
