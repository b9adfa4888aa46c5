#include "app/desktop/garage/usual_range.h"

#include "plotting/look.h"

#include <QPainter>

#include <algorithm>

namespace rw {

namespace {

constexpr double ends = 46.0; // room for the figures at both ends

} // namespace

UsualRange::UsualRange(QWidget* parent)
    : QWidget(parent) {
    setFixedHeight(3 * gridStep);
    setAccessibleName(tr("Usual range"));
}

QSize UsualRange::sizeHint() const { return {138, 3 * gridStep}; }

void UsualRange::setContent(const UsualRangeContent& content) {
    content_ = content;
    setAccessibleDescription(tr("%1 to %2").arg(content.lowText, content.highText));
    update();
}

void UsualRange::paintEvent(QPaintEvent*) {
    if (content_.lowText.isEmpty()) return;
    const Look& look = Look::of(this);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setFont(rw::font(Type::Small));
    painter.setPen(look.soft);
    const QRectF box = rect();
    drawFigures(painter, QRectF(0.0, 0.0, ends - 6.0, box.height()), Qt::AlignRight | Qt::AlignVCenter,
                content_.lowText);
    drawFigures(painter, QRectF(box.width() - ends + 6.0, 0.0, ends - 6.0, box.height()),
                Qt::AlignLeft | Qt::AlignVCenter, content_.highText);
    const double left = ends, right = box.width() - ends, middle = 0.5 * box.height();
    painter.setPen(QPen(look.rule, 2.0, Qt::SolidLine, Qt::RoundCap));
    painter.drawLine(QPointF(left, middle), QPointF(right, middle));
    if (!content_.value || !(content_.high > content_.low)) return;
    const auto at = [&](double value) {
        const double share = std::clamp((value - content_.low) / (content_.high - content_.low), 0.0, 1.0);
        return left + share * (right - left);
    };
    const double x = at(*content_.value);
    if (content_.uncertainty > 0.0) {
        const double from = at(*content_.value - content_.uncertainty), to = at(*content_.value + content_.uncertainty);
        QColor band = look.soft;
        band.setAlphaF(0.35F);
        painter.fillRect(QRectF(from, middle - 3.0, to - from, 6.0), band);
    }
    painter.setPen(QPen(content_.estimated ? look.soft : look.accent, 2.0));
    painter.drawLine(QPointF(x, middle - 6.0), QPointF(x, middle + 6.0));
}

} // namespace rw
