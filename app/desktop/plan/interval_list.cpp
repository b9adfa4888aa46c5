#include "app/desktop/plan/interval_list.h"

#include "plotting/look.h"

#include <QPainter>

#include <algorithm>

namespace rw {

namespace {

constexpr int rowHeight = 46;
constexpr double barTop = 25.0, barHeight = 8.0;

} // namespace

IntervalList::IntervalList(QWidget* parent)
    : QWidget(parent) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void IntervalList::setRows(std::vector<IntervalRow> rows) {
    rows_ = std::move(rows);
    QStringList words;
    for (const IntervalRow& row : rows_)
        words << row.label + u' ' + row.text + QStringLiteral(", ") + row.chance;
    setAccessibleDescription(words.join(QStringLiteral("; ")));
    updateGeometry();
    update();
}

QSize IntervalList::sizeHint() const { return {40 * gridStep, static_cast<int>(rows_.size()) * rowHeight}; }

void IntervalList::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Look& look = Look::of(this);
    const double inset = 2.0;
    for (int i = 0; i < static_cast<int>(rows_.size()); ++i) {
        const IntervalRow& row = rows_[static_cast<std::size_t>(i)];
        const QRectF line(inset, i * rowHeight, width() - 2.0 * inset, rowHeight);
        const QRectF words(line.left(), line.top() + 4.0, line.width(), 18.0);
        painter.setFont(rw::font(Type::Body));
        painter.setPen(look.ink);
        painter.drawText(words, Qt::AlignLeft | Qt::AlignVCenter, row.label);
        painter.setFont(rw::font(row.poor ? Type::SmallStrong : Type::Small));
        painter.setPen(row.poor ? look.bad : look.soft);
        drawFigures(painter, words, Qt::AlignRight | Qt::AlignVCenter, row.chance);
        const double chanceWidth = std::max(13.0 * gridStep, figuresWidth(painter.font(), row.chance) + 2.0 * gridStep);
        painter.setFont(rw::font(Type::Small));
        painter.setPen(look.ink);
        drawFigures(painter, words.adjusted(0.0, 0.0, -chanceWidth, 0.0), Qt::AlignRight | Qt::AlignVCenter, row.text);

        double from = std::min(row.low, row.mark.value_or(row.low)),
               to = std::max(row.high, row.mark.value_or(row.high));
        const double room = std::max(0.15 * (to - from), 1e-9);
        from -= room, to += room;
        const auto x = [&](double value) { return line.left() + (value - from) / (to - from) * line.width(); };
        painter.setPen(Qt::NoPen);
        painter.setBrush(look.rule);
        painter.drawRoundedRect(QRectF(line.left(), line.top() + barTop + 3.0, line.width(), 2.0), 1.0, 1.0);
        painter.setBrush(look.accent);
        painter.drawRoundedRect(
            QRectF(x(row.low), line.top() + barTop, std::max(2.0, x(row.high) - x(row.low)), barHeight), 2.0, 2.0);
        painter.setPen(QPen(look.sheet, 2.0));
        painter.drawLine(QPointF(x(row.middle), line.top() + barTop),
                         QPointF(x(row.middle), line.top() + barTop + barHeight));
        if (!row.mark) continue;
        painter.setPen(QPen(look.ink, 1.5, Qt::DotLine));
        painter.drawLine(QPointF(x(*row.mark), line.top() + barTop - 3.0),
                         QPointF(x(*row.mark), line.top() + barTop + barHeight + 3.0));
    }
}

} // namespace rw
