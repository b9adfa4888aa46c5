#include "app/desktop/review/bar_table.h"

#include "app/desktop/shared/garage_text.h"

#include <QHeaderView>

namespace rw {

void BarTableModel::setTable(TaughtTable table) {
    bars_ = std::move(table.bars);
    source_ = std::move(table.source);
    barColumn_ = table.barColumn;
    setRows(table.header, std::move(table.rows));
}

QVariant BarTableModel::data(const QModelIndex& index, int role) const {
    if (role == BarCellRole && index.column() == barColumn_ && index.row() < static_cast<int>(bars_.size())) {
        const std::optional<BarCell>& bar = bars_[static_cast<std::size_t>(index.row())];
        return bar ? QVariant::fromValue(*bar) : QVariant();
    }
    return ValueTableModel::data(index, role);
}

Qt::ItemFlags BarTableModel::flags(const QModelIndex& index) const {
    return sourceOf(index.row()) < 0 ? Qt::ItemFlags(Qt::ItemIsEnabled) : ValueTableModel::flags(index);
}

int BarTableModel::sourceOf(int row) const {
    return row >= 0 && row < static_cast<int>(source_.size()) ? source_[static_cast<std::size_t>(row)] : -1;
}

BarTable::BarTable(const QString& name, int leftColumns, int stretched, QWidget* parent)
    : FigureTable(parent)
    , rows_(new BarTableModel(leftColumns, this))
    , delegate_(new BarDelegate(this))
    , stretched_(stretched) {
    setModel(rows_);
    setItemDelegate(delegate_);
    delegate_->setWrapped(stretched);
    setAccessibleName(name);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    const auto tell = [this](int row) {
        if (rows_->sourceOf(row) >= 0) emit chosen(rows_->sourceOf(row));
    };
    connect(this, &QTableView::clicked, this, [tell](const QModelIndex& index) { tell(index.row()); });
    connect(this, &FigureTable::rowActivated, this, tell);
}

void BarTable::setTable(TaughtTable table) {
    const int bars = table.barColumn;
    std::vector<int> dividers;
    for (std::size_t row = 0; row < table.source.size(); ++row)
        if (table.source[row] < 0) dividers.push_back(static_cast<int>(row));
    clearSpans();
    rows_->setTable(std::move(table));
    for (const int row : dividers)
        setSpan(row, 0, 1, rows_->columnCount());
    QHeaderView& head = *horizontalHeader();
    head.setSectionResizeMode(QHeaderView::ResizeToContents);
    head.setStretchLastSection(false);
    const int stretch = stretched_ >= 0 ? stretched_ : bars;
    if (stretch >= 0 && stretch < rows_->columnCount()) head.setSectionResizeMode(stretch, QHeaderView::Stretch);
    fit();
}

void BarTable::resizeEvent(QResizeEvent* event) {
    FigureTable::resizeEvent(event);
    if (event->oldSize().width() != event->size().width()) fit();
}

void BarTable::fit() {
    if (stretched_ >= 0) resizeRowsToContents();
    fitToRows(*this);
}

} // namespace rw
