#include "app/desktop/plan/bar_lists.h"

#include "plotting/look.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

constexpr int oneLine = 28, twoLines = 44;

constexpr int rowHeight = 46;
constexpr double barTop = 25.0, barHeight = 8.0;

BarList::BarList() {
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void BarList::setRows(std::vector<BarRow> rows) {
    rows_ = std::move(rows);
    chosen_ = std::min(chosen_, static_cast<int>(rows_.size()) - 1);
    QStringList words;
    for (const BarRow& row : rows_)
        words << row.label + u' ' + row.text + (row.worth.isEmpty() ? QString() : QStringLiteral(", ") + row.worth);
    setAccessibleDescription(words.join(QStringLiteral("; ")));
    updateGeometry();
    update();
}

QSize BarList::sizeHint() const { return {40 * gridStep, static_cast<int>(rows_.size()) * rowHeight() + 2}; }

int BarList::rowHeight() const {
    const bool two = std::any_of(rows_.begin(), rows_.end(), [](const BarRow& row) { return !row.worth.isEmpty(); });
    return two ? twoLines : oneLine;
}

void BarList::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Look& look = Look::of(this);
    const QFont body = rw::font(Type::Body), small = rw::font(Type::Small);
    double largest = 0.0, widest = 0.0;
    for (const BarRow& row : rows_) {
        largest = std::max({largest, std::abs(row.down.value_or(0.0)), std::abs(row.up.value_or(0.0))});
        widest = std::max(widest, figuresWidth(small, row.text));
    }
    const double labelWidth = std::min(0.42 * width(), 26.0 * gridStep);
    const double right = width() - widest - gridStep;
    const double middle = 0.5 * (labelWidth + gridStep + right), half = 0.5 * (right - labelWidth - gridStep);
    for (int i = 0; i < static_cast<int>(rows_.size()); ++i) {
        const BarRow& row = rows_[static_cast<std::size_t>(i)];
        const QRectF line(0.0, i * rowHeight(), width(), oneLine);
        if (i == pointed_ || (hasFocus() && i == chosen_))
            painter.fillRect(QRectF(0.0, line.top(), width(), rowHeight()), look.wash);
        setInk(painter, body, look.ink);
        const QFontMetricsF metrics(body);
        const QString label = metrics.elidedText(row.label, Qt::ElideRight, labelWidth - gridStep);
        painter.drawText(line.adjusted(4.0, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter, label);
        const double used = metrics.horizontalAdvance(label) + gridStep + 4.0;
        setInk(painter, small, look.soft);
        if (used + figuresWidth(small, row.note) < labelWidth)
            drawFigures(painter, QRectF(used, line.top(), labelWidth - used, oneLine), Qt::AlignLeft | Qt::AlignVCenter,
                        row.note);
        drawFigures(painter, line.adjusted(0.0, 0.0, -2.0, 0.0), Qt::AlignRight | Qt::AlignVCenter, row.text);
        if (!row.worth.isEmpty())
            drawFigures(painter, QRectF(4.0, line.bottom() - 6.0, width() - 8.0, twoLines - oneLine),
                        Qt::AlignLeft | Qt::AlignVCenter, row.worth);
        painter.setPen(Qt::NoPen);
        const auto bar = [&](std::optional<double> value, const QBrush& brush, double top) {
            if (!value || largest <= 0.0) return;
            const double length = *value / largest * half;
            painter.setBrush(brush);
            painter.drawRect(QRectF(std::min(middle, middle + length), top, std::max(1.0, std::abs(length)), 7.0));
        };
        // Up filled, down in outline: told apart without colour.
        bar(row.up, look.accent, line.center().y() - 7.5);
        painter.setPen(QPen(look.accent, 1.0));
        bar(row.down, look.sheet, line.center().y() + 0.5);
    }
    strokeLine(painter, QPen(look.rule, 1.0), QPointF(middle, 0.0), QPointF(middle, height()));
}

void BarList::choose(int row) {
    if (rows_.empty()) return;
    chosen_ = std::clamp(row, 0, static_cast<int>(rows_.size()) - 1);
    update();
}

void BarList::mousePressEvent(QMouseEvent* event) {
    const int row = static_cast<int>(event->position().y()) / rowHeight();
    if (row < 0 || row >= static_cast<int>(rows_.size())) return;
    choose(row);
    emit activated(rows_[static_cast<std::size_t>(row)].key);
}

void BarList::mouseMoveEvent(QMouseEvent* event) {
    pointed_ = static_cast<int>(event->position().y()) / rowHeight();
    update();
}

void BarList::leaveEvent(QEvent*) {
    pointed_ = -1;
    update();
}

void BarList::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Down)
        choose(chosen_ + 1);
    else if (event->key() == Qt::Key_Up)
        choose(chosen_ - 1);
    else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Space) && chosen_ >= 0 &&
             chosen_ < static_cast<int>(rows_.size()))
        emit activated(rows_[static_cast<std::size_t>(chosen_)].key);
    else
        QWidget::keyPressEvent(event);
}

IntervalList::IntervalList() { setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed); }

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
        setInk(painter, Type::Body, look.ink);
        painter.drawText(words, Qt::AlignLeft | Qt::AlignVCenter, row.label);
        setInk(painter, row.poor ? Type::SmallStrong : Type::Small, row.poor ? look.bad : look.soft);
        drawFigures(painter, words, Qt::AlignRight | Qt::AlignVCenter, row.chance);
        const double chanceWidth = std::max(13.0 * gridStep, figuresWidth(painter.font(), row.chance) + 2.0 * gridStep);
        setInk(painter, Type::Small, look.ink);
        drawFigures(painter, words.adjusted(0.0, 0.0, -chanceWidth, 0.0), Qt::AlignRight | Qt::AlignVCenter, row.text);

        double from = std::min(row.low, row.mark.value_or(row.low)),
               to = std::max(row.high, row.mark.value_or(row.high));
        const double room = std::max(0.15 * (to - from), 1e-9);
        from -= room, to += room;
        const auto x = [&](double value) { return line.left() + (value - from) / (to - from) * line.width(); };
        fillRounded(painter, QRectF(line.left(), line.top() + barTop + 3.0, line.width(), 2.0), 1.0, look.rule);
        painter.setBrush(look.accent);
        painter.drawRoundedRect(
            QRectF(x(row.low), line.top() + barTop, std::max(2.0, x(row.high) - x(row.low)), barHeight), 2.0, 2.0);
        strokeLine(painter, QPen(look.sheet, 2.0), QPointF(x(row.middle), line.top() + barTop),
                   QPointF(x(row.middle), line.top() + barTop + barHeight));
        if (!row.mark) continue;
        strokeLine(painter, QPen(look.ink, 1.5, Qt::DotLine), QPointF(x(*row.mark), line.top() + barTop - 3.0),
                   QPointF(x(*row.mark), line.top() + barTop + barHeight + 3.0));
    }
}

} // namespace rw
