#include "app/desktop/garage/speed_bands.h"

#include "plotting/look.h"

#include <QPainter>

#include <cmath>

namespace rw {

namespace {

constexpr double lineHeight = 2.0 * gridStep, labelWidth = 10.0 * gridStep, axisHeight = 3.0 * gridStep, unitGap = 10.0;

double stepOf(double span) {
    const double rough = span / 4.0, power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double step : {1.0, 2.0, 5.0, 10.0})
        if (step * power >= rough) return step * power;
    return 10.0 * power;
}

QColor paler(QColor color, float alpha) {
    color.setAlphaF(alpha);
    return color;
}

} // namespace

SpeedBands::SpeedBands(bool numbered, QWidget* parent)
    : QWidget(parent)
    , numbered_(numbered) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void SpeedBands::setContent(const BandAxis& axis, std::vector<BandLine> lines, const QString& unit) {
    axis_ = axis, lines_ = std::move(lines), unit_ = unit;
    setFixedHeight(sizeHint().height());
    update();
}

QSize SpeedBands::sizeHint() const {
    const double height = static_cast<double>(lines_.size()) * lineHeight + (numbered_ ? axisHeight : 0.0);
    return {24 * gridStep, static_cast<int>(height)};
}

void SpeedBands::paintEvent(QPaintEvent*) {
    if (!(axis_.high > axis_.low)) return;
    const Look& look = Look::of(this);
    QPainter painter(this);
    painter.setFont(rw::font(Type::Small));
    const double right = width() - labelWidth;
    const auto at = [&](double speed) { return (speed - axis_.low) / (axis_.high - axis_.low) * right; };
    const QColor blue = look.hue(Hue::Speed);
    const double bottom = static_cast<double>(lines_.size()) * lineHeight;
    if (axis_.target) {
        painter.setPen(QPen(look.ink, 1.0, Qt::DotLine));
        painter.drawLine(QPointF(at(*axis_.target), 0.0), QPointF(at(*axis_.target), bottom));
    }
    double y = 0.0;
    for (const BandLine& line : lines_) {
        const auto bar = [&](std::optional<double> low, std::optional<double> high, const QColor& color, double thick) {
            if (low && high)
                painter.fillRect(QRectF(at(*low), y + 0.5 * (lineHeight - thick), at(*high) - at(*low), thick), color);
        };
        bar(line.paleLow, line.paleHigh, paler(blue, 0.28F), line.low ? 8.0 : 5.0);
        bar(line.low, line.high, paler(blue, 0.85F), 8.0);
        if (line.tick) painter.fillRect(QRectF(at(*line.tick) - 1.0, y + 2.0, 2.0, lineHeight - 4.0), look.ink);
        painter.setPen(look.soft);
        painter.drawText(
            QRectF(right + 4.0, y, labelWidth - 4.0, lineHeight), Qt::AlignLeft | Qt::AlignVCenter,
            painter.fontMetrics().elidedText(line.label, Qt::ElideRight, static_cast<int>(labelWidth) - 4));
        y += lineHeight;
    }
    if (!numbered_) return;
    painter.setPen(look.rule);
    painter.drawLine(QPointF(0.0, bottom + 4.0), QPointF(right, bottom + 4.0));
    painter.setPen(look.soft);
    const double step = stepOf(axis_.high - axis_.low);
    const auto last = static_cast<int>(std::floor(axis_.high / step));
    for (int tick = static_cast<int>(std::ceil(axis_.low / step)); tick <= last; ++tick) {
        const double speed = tick * step;
        painter.drawLine(QPointF(at(speed), bottom + 4.0), QPointF(at(speed), bottom + 7.0));
        if (at(speed) > right - unitGap) continue; // the unit stands there
        drawFigures(painter, QRectF(at(speed) - 30.0, bottom + 7.0, 60.0, axisHeight - 7.0),
                    Qt::AlignHCenter | Qt::AlignVCenter, QString::number(speed, 'g', 4));
    }
    painter.drawText(QRectF(right + 4.0, bottom, labelWidth, axisHeight), Qt::AlignLeft | Qt::AlignVCenter, unit_);
}

} // namespace rw
