#include "app/desktop/plan/stair_view.h"

#include "app/desktop/pages/ladder_drawing.h"
#include "plotting/export.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double edge = 2.0 * gridStep; // of the paper round the drawing

LadderPart whole(const LadderSheet& sheet) { return {0, sheet.columns.size()}; }

} // namespace

StairView::StairView(QWidget* parent)
    : QWidget(parent) {
    setFocusPolicy(Qt::StrongFocus);
    addActions(exportActions(this, [this] {
        return Drawing{QStringLiteral("ladder"), size(), Look::light().sheet,
                       [this](QPainter& painter, const QRectF& rect) {
                           painter.save();
                           painter.translate(rect.topLeft() + QPointF(edge, edge));
                           paintLadder(painter, sheet_, whole(sheet_), Look::light(),
                                       rect.size() - QSizeF(2.0 * edge, 2.0 * edge));
                           painter.restore();
                       },
                       [this] {
                           QString out;
                           for (const QStringList& row : ladderTable(sheet_))
                               out += csvLine(row);
                           return out;
                       }};
    }));
    setContextMenuPolicy(Qt::ActionsContextMenu);
}

void StairView::setSheet(LadderSheet sheet) {
    sheet_ = std::move(sheet);
    empty_.clear();
    chosen_.reset();
    for (std::size_t i = 0; i < sheet_.columns.size() && !chosen_; ++i)
        if (choosable(i)) {
            if (sheet_.columns[i].risky) break; // not even the next one behind it: steps are climbed in order
            chosen_ = i;
        }
    QStringList words{sheet_.title};
    for (const QStringList& row : ladderTable(sheet_))
        words << row.join(QStringLiteral(" | "));
    setAccessibleDescription(words.join(QLatin1Char('\n')));
    updateGeometry();
    update();
    emit choiceChanged();
}

void StairView::setEmpty(const QString& words) {
    sheet_ = {};
    chosen_.reset();
    empty_ = words;
    setAccessibleDescription(words);
    updateGeometry();
    update();
    emit choiceChanged();
}

bool StairView::choosable(std::size_t column) const {
    return column < sheet_.columns.size() && !sheet_.columns[column].blocked;
}

void StairView::choose(std::optional<std::size_t> column) {
    if (column && !choosable(*column)) return;
    chosen_ = column;
    update();
    if (column) {
        const auto [left, right] = columnAt(*column);
        emit columnWanted(static_cast<int>(left), static_cast<int>(right));
    }
    emit choiceChanged();
}

std::pair<double, double> StairView::columnAt(std::size_t column) const {
    const auto [left, right] = ladderColumnAt(sheet_, whole(sheet_), width() - 2.0 * edge, column);
    return {left + edge, right + edge};
}

QSize StairView::minimumSizeHint() const {
    if (sheet_.columns.empty()) return {40 * gridStep, 22 * gridStep};
    const QSizeF least = ladderLeast(sheet_, whole(sheet_));
    return {static_cast<int>(std::ceil(least.width() + 2.0 * edge)),
            static_cast<int>(std::ceil(
                ladderLeastHeight(sheet_, whole(sheet_), std::max(least.width(), width() - 2.0 * edge)) + 2.0 * edge))};
}

int StairView::heightForWidth(int width) const {
    if (sheet_.columns.empty()) return minimumSizeHint().height();
    return static_cast<int>(std::ceil(ladderLeastHeight(sheet_, whole(sheet_), width - 2.0 * edge) + 2.0 * edge));
}

void StairView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(hasFocus() ? look.accent : look.rule, 1.0));
    painter.setBrush(look.sheet);
    painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
    if (sheet_.columns.empty()) {
        painter.setPen(look.soft);
        painter.setFont(rw::font(Type::Body));
        painter.drawText(rect().adjusted(20, 20, -20, -20), Qt::AlignCenter | Qt::TextWordWrap, empty_);
        return;
    }
    painter.translate(edge, edge);
    paintLadder(painter, sheet_, whole(sheet_), look, QSizeF(size()) - QSizeF(2.0 * edge, 2.0 * edge), chosen_);
}

void StairView::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) return;
    for (std::size_t i = 0; i < sheet_.columns.size(); ++i) {
        const auto [left, right] = columnAt(i);
        if (event->position().x() >= left && event->position().x() < right) choose(i);
    }
}

void StairView::keyPressEvent(QKeyEvent* event) {
    const std::size_t now = chosen_.value_or(0);
    switch (event->key()) {
    case Qt::Key_Left:
        return choose(now > 0 ? now - 1 : 0);
    case Qt::Key_Right:
        return choose(chosen_ ? now + 1 : 0);
    case Qt::Key_Home:
        return choose(0);
    default:
        QWidget::keyPressEvent(event);
    }
}

void StairView::focusInEvent(QFocusEvent* event) {
    QWidget::focusInEvent(event);
    update();
}

void StairView::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    update();
}

void StairView::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() != QEvent::PaletteChange && event->type() != QEvent::FontChange) return;
    updateGeometry();
    update();
}

} // namespace rw
