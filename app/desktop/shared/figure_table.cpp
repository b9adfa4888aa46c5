#include "app/desktop/shared/figure_table.h"

#include <QApplication>
#include <QClipboard>
#include <QContextMenuEvent>
#include <QHeaderView>
#include <QKeyEvent>
#include <QMenu>
#include <QPainter>

#include <algorithm>

namespace rw {

constexpr int lineHeight = 26, padding = 5;

void FigureDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const Look& look = Look::of(option.palette);
    painter->save();
    const bool chosen = option.state & QStyle::State_Selected;
    const bool pointed = option.state & QStyle::State_MouseOver;
    if (chosen || pointed) painter->fillRect(option.rect, look.wash);
    const QVariant font = index.data(Qt::FontRole);
    painter->setFont(font.canConvert<QFont>() ? font.value<QFont>() : rw::font(Type::Body));
    const QVariant tone = index.data(ToneRole);
    painter->setPen(toneColour(look, tone.isValid() ? static_cast<Tone>(tone.toInt()) : Tone::Ink));
    const QRectF box = QRectF(option.rect).adjusted(padding, 0.0, -padding, 0.0);
    const auto alignment = static_cast<Qt::Alignment>(index.data(Qt::TextAlignmentRole).toInt());
    const QString text = index.data(Qt::DisplayRole).toString();
    if (figuresWidth(painter->font(), text) <= box.width())
        drawFigures(*painter, box, alignment | Qt::AlignVCenter, text);
    else
        painter->drawText(box, int(alignment | Qt::AlignVCenter),
                          painter->fontMetrics().elidedText(text, Qt::ElideRight, int(box.width())));
    if (option.state & QStyle::State_HasFocus) {
        strokeLine(*painter, QPen(look.accent, 1.0), QPointF(option.rect.left(), option.rect.bottom() + 0.5),
                   QPointF(option.rect.right(), option.rect.bottom() + 0.5));
    }
    painter->restore();
}

QSize FigureDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex& index) const {
    const QVariant font = index.data(Qt::FontRole);
    const QFont used = font.canConvert<QFont>() ? font.value<QFont>() : rw::font(Type::Body);
    return {static_cast<int>(figuresWidth(used, index.data(Qt::DisplayRole).toString())) + 2 * padding + 2, lineHeight};
}

FigureTable::FigureTable(QWidget* parent)
    : QTableView(parent) {
    setItemDelegate(new FigureDelegate(this));
    setShowGrid(false);
    setSelectionBehavior(QAbstractItemView::SelectRows);
    setSelectionMode(QAbstractItemView::ExtendedSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setMouseTracking(true);
    setTabKeyNavigation(false); // Tab leaves the table
    setWordWrap(false);
    verticalHeader()->hide();
    verticalHeader()->setDefaultSectionSize(lineHeight);
    verticalHeader()->setMinimumSectionSize(lineHeight);
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setFont(rw::font(Type::Small));
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    connect(this, &QTableView::activated, this, [this](const QModelIndex& index) { emit rowActivated(index.row()); });
}

FigureTable::FigureTable(QAbstractItemModel* model, const QString& name, SelectionMode mode)
    : FigureTable() {
    setModel(model);
    setAccessibleName(name);
    setSelectionMode(mode);
}

void FigureTable::setModel(QAbstractItemModel* model) {
    QTableView::setModel(model);
    horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    if (model && model->columnCount() > 0) horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
}

int FigureTable::neededWidth(int column) const {
    // The header's own hint has room for an arrow that is not drawn.
    const QString head = model()->headerData(column, Qt::Horizontal).toString();
    // Of many rows the hint knows the first; numbers that count up are longest in the last.
    const int last = sizeHintForIndex(model()->index(model()->rowCount() - 1, column)).width();
    return std::max(
        {sizeHintForColumn(column), last, horizontalHeader()->fontMetrics().horizontalAdvance(head) + 2 * padding + 2});
}

QString FigureTable::asText() const {
    if (!model()) return {};
    QStringList lines, cells;
    for (int column = 0; column < model()->columnCount(); ++column)
        cells << model()->headerData(column, Qt::Horizontal).toString();
    lines << cells.join(u'\t');
    const bool some = selectionModel() && selectionModel()->hasSelection();
    for (int row = 0; row < model()->rowCount(); ++row) {
        if (some && !selectionModel()->isRowSelected(row)) continue;
        cells.clear();
        for (int column = 0; column < model()->columnCount(); ++column)
            cells << model()->index(row, column).data().toString();
        lines << cells.join(u'\t');
    }
    return lines.join(u'\n') + u'\n';
}

void FigureTable::keyPressEvent(QKeyEvent* event) {
    if (event->matches(QKeySequence::Copy))
        QApplication::clipboard()->setText(asText());
    else
        QTableView::keyPressEvent(event);
}

void FigureTable::resizeEvent(QResizeEvent* event) {
    QTableView::resizeEvent(event);
    emit resized();
}

void FigureTable::contextMenuEvent(QContextMenuEvent* event) {
    QMenu menu(this);
    connect(menu.addAction(tr("Copy as text")), &QAction::triggered, this,
            [this] { QApplication::clipboard()->setText(asText()); });
    menu.exec(event->globalPos());
}

ValueTableModel::ValueTableModel(int leftColumns, QObject* parent)
    : QAbstractTableModel(parent)
    , leftColumns_(leftColumns) {}

QVariant rawOf(std::optional<double> value) { return value ? QVariant(*value) : QVariant(); }

void ValueTableModel::setRows(const QStringList& header, ValueRows rows) {
    const std::size_t count = rows.size();
    setCells(header, count, [rows = std::move(rows)](std::size_t row, std::size_t column) {
        return column < rows[row].size() ? rows[row][column] : ValueCell{};
    });
}

void ValueTableModel::setCells(const QStringList& header, std::size_t rows, Cells cells, const QStringList& helps) {
    beginResetModel();
    header_ = header;
    helps_ = helps;
    rows_ = static_cast<int>(rows);
    cells_ = std::move(cells);
    endResetModel();
}

int ValueTableModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(header_.size());
}

QVariant ValueTableModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid)) return {};
    const ValueCell cell = cells_(static_cast<std::size_t>(index.row()), static_cast<std::size_t>(index.column()));
    switch (role) {
    case Qt::DisplayRole:
        return cell.text;
    case Qt::ToolTipRole:
        return cell.help.isEmpty() ? QVariant() : cell.help;
    case Qt::FontRole:
        return rw::font(cell.strong ? Type::Strong : Type::Body);
    case Qt::TextAlignmentRole:
        return int((index.column() < leftColumns_ ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    case ToneRole:
        return static_cast<int>(cell.tone);
    case RawRole:
        return cell.raw;
    default:
        return {};
    }
}

QVariant ValueTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || section < 0 || section >= header_.size()) return {};
    if (role == Qt::DisplayRole) return header_[section];
    if (role == Qt::ToolTipRole && section < helps_.size() && !helps_[section].isEmpty()) return helps_[section];
    if (role == Qt::TextAlignmentRole)
        return int((section < leftColumns_ ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    return {};
}

} // namespace rw
