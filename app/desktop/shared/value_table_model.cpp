#include "app/desktop/shared/value_table_model.h"

#include "app/desktop/shared/figure_table.h"

namespace rw {

ValueTableModel::ValueTableModel(int leftColumns, QObject* parent)
    : QAbstractTableModel(parent)
    , leftColumns_(leftColumns) {}

void ValueTableModel::setRows(const QStringList& header, std::vector<std::vector<ValueCell>> rows) {
    beginResetModel();
    header_ = header;
    rows_ = std::move(rows);
    endResetModel();
}

int ValueTableModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}
int ValueTableModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(header_.size());
}

QVariant ValueTableModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid)) return {};
    const auto& row = rows_[static_cast<std::size_t>(index.row())];
    if (static_cast<std::size_t>(index.column()) >= row.size()) return {};
    const ValueCell& cell = row[static_cast<std::size_t>(index.column())];
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
    if (role == Qt::TextAlignmentRole)
        return int((section < leftColumns_ ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    return {};
}

} // namespace rw
