#include "app/desktop/plan/stair_view.h"

#include "plotting/look.h"

#include <QPainter>

#include <algorithm>

namespace rw {

StairView::StairView(QWidget* parent)
    : QWidget(parent) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
}

void StairView::setStair(std::vector<StairTread> treads, std::optional<double> target, const QString& title,
                         const QString& empty) {
    treads_ = std::move(treads);
    target_ = target;
    title_ = title;
    empty_ = empty;
    QStringList words;
    for (const StairTread& tread : treads_)
        words << tread.change + QLatin1Char(' ') + tread.figure;
    setAccessibleDescription(words.join(QStringLiteral("; ")));
    update();
}

QSize StairView::sizeHint() const { return {80 * gridStep, 30 * gridStep}; }

QSize StairView::minimumSizeHint() const { return {40 * gridStep, 22 * gridStep}; }

void StairView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Look& look = Look::of(this);
    if (treads_.empty()) {
        painter.setPen(look.soft);
        painter.drawText(rect(), Qt::AlignCenter | Qt::TextWordWrap, empty_);
        return;
    }
    const double small = QFontMetricsF(rw::font(Type::Small)).height();
    const double large = QFontMetricsF(rw::font(Type::Heading)).height();
    double low = treads_.front().low, high = treads_.front().high;
    for (const StairTread& tread : treads_)
        low = std::min(low, tread.low), high = std::max(high, tread.high);
    if (target_) low = std::min(low, *target_), high = std::max(high, *target_);
    const double top = small + large + 2.0 * gridStep, bottom = height() - 2.5 * small;
    const double span = std::max(high - low, 1e-9);
    const auto y = [&](double speed) { return bottom - (speed - low) / span * (bottom - top); };
    const double width = static_cast<double>(this->width()) / static_cast<double>(treads_.size());
    painter.setFont(rw::font(Type::SmallStrong));
    painter.setPen(look.soft);
    painter.drawText(QRectF(0.0, 0.0, this->width(), small), Qt::AlignLeft, title_);
    if (target_) {
        painter.setPen(QPen(look.soft, 1.25, Qt::DotLine));
        painter.drawLine(QPointF(0.0, y(*target_)), QPointF(this->width(), y(*target_)));
        painter.setPen(look.soft);
        painter.drawText(QRectF(0.0, y(*target_) - small - 2.0, width, small), Qt::AlignLeft, tr("target"));
    }
    QColor band = look.hue(Hue::Speed);
    band.setAlphaF(0.2F);
    for (std::size_t i = 0; i < treads_.size(); ++i) {
        const StairTread& tread = treads_[i];
        const double left = width * static_cast<double>(i), here = y(tread.mean);
        const QColor color = tread.blocked ? look.bad : look.hue(Hue::Speed);
        painter.fillRect(QRectF(left, y(tread.high), width, y(tread.low) - y(tread.high)), band);
        painter.setPen(QPen(color, 2.5, tread.blocked ? Qt::DashLine : Qt::SolidLine, Qt::FlatCap));
        if (i > 0 && !tread.blocked) painter.drawLine(QPointF(left, y(treads_[i - 1].mean)), QPointF(left, here));
        painter.drawLine(QPointF(left, here), QPointF(left + width, here));
        const double above = std::min(y(tread.high), here) - large - 4.0;
        painter.setFont(rw::font(Type::Heading));
        painter.setPen(look.ink);
        const double offset =
            target_ && i == 0 ? QFontMetricsF(rw::font(Type::SmallStrong)).horizontalAdvance(tr("target")) + gridStep
                              : gridStep;
        painter.drawText(QRectF(left + offset, above, width - offset, large), Qt::AlignLeft | Qt::AlignVCenter,
                         tread.figure);
        const double figure = QFontMetricsF(painter.font()).horizontalAdvance(tread.figure) + gridStep;
        painter.setFont(rw::font(Type::Small));
        painter.setPen(look.soft);
        painter.drawText(QRectF(left + offset + figure, above, width - offset - figure, large),
                         Qt::AlignLeft | Qt::AlignVCenter, tread.detail);
        painter.setFont(rw::font(Type::SmallStrong));
        painter.setPen(look.ink);
        painter.drawText(QRectF(left + gridStep, std::max(y(tread.low), here) + 4.0, width - gridStep, 2.0 * small),
                         Qt::AlignLeft | Qt::TextWordWrap, tread.change);
    }
}

} // namespace rw
