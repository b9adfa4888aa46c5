#include "app/desktop/plan/gear_table_model.h"

#include "app/desktop/shared/limit_texts.h"
#include "app/desktop/shared/units.h"
#include "plotting/look.h"

#include <QFont>

namespace rw {

GearTableModel::GearTableModel(const Units& units, QObject* parent)
    : QAbstractTableModel(parent)
    , units_(units) {}

void GearTableModel::setTable(std::shared_ptr<const GearTable> table) {
    beginResetModel();
    table_ = std::move(table);
    endResetModel();
}

void GearTableModel::setFitted(int pinion, int spur) {
    pinion_ = pinion;
    spur_ = spur;
    refresh();
}

void GearTableModel::refresh() {
    if (rowCount() == 0) return;
    emit dataChanged(index(0, 0), index(rowCount() - 1, Count_ - 1));
    emit headerDataChanged(Qt::Horizontal, 0, Count_ - 1);
}

int GearTableModel::fittedRow() const {
    for (int i = 0; i < rowCount(); ++i) {
        const GearRow& row = table_->rows[static_cast<std::size_t>(i)];
        if (row.pinion == pinion_ && row.spur == spur_) return i;
    }
    return -1;
}

int GearTableModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() || !table_ ? 0 : static_cast<int>(table_->rows.size());
}

int GearTableModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : Count_; }

QVariant GearTableModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid)) return {};
    const GearRow& row = table_->rows[static_cast<std::size_t>(index.row())];
    const bool fitted = row.pinion == pinion_ && row.spur == spur_;
    switch (role) {
    case Qt::DisplayRole:
        return text(row, index.column());
    case RawRole:
        return raw(row, index.column());
    case BrokenRole:
        return !row.withinLimits;
    case FittedRole:
        return fitted;
    case Qt::TextAlignmentRole:
        return int((index.column() == Pair ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    case Qt::FontRole:
        return rw::font(fitted ? Type::Strong : Type::Body);
    case Qt::ToolTipRole:
        if (!row.withinLimits && row.tightest) return limitAdvice(row.tightest->limit);
        if (row.makesTarget) return tr("Makes the target. A click or Enter fits this pair; Ctrl+Z takes it back.");
        return tr("A click or Enter fits this pair; Ctrl+Z takes it back.");
    default:
        return {};
    }
}

QString GearTableModel::text(const GearRow& row, int column) const {
    switch (column) {
    case Pair:
        return QStringLiteral("%1/%2").arg(row.pinion).arg(row.spur);
    case Ratio:
        return figure(row.overallRatio, 2);
    case ZoneSpeed: // a mark before it where it makes the target
        return (row.makesTarget ? QStringLiteral("✓ ") : QString()) + units_.figure(Dimension::Speed, row.zoneMean);
    case PeakCurrent:
        return figure(row.peakPackCurrent, 0);
    case MotorCase:
        return units_.figure(Dimension::Temperature, row.caseSoakPeak);
    case Tightest: {
        if (!row.zoneMean) return tr("not completed");
        if (!row.tightest) return QStringLiteral("–");
        const QString name = limitShort(row.tightest->limit);
        if (row.tightest->margin < 0.0) return tr("%1 over").arg(name);
        return tr("%1 %2 %").arg(name, figure(100.0 * row.tightest->margin, 0));
    }
    default:
        return {};
    }
}

QVariant GearTableModel::raw(const GearRow& row, int column) const {
    switch (column) {
    case Pair:
        return row.pinion;
    case Ratio:
        return row.overallRatio;
    case ZoneSpeed:
        return row.zoneMean ? QVariant(*row.zoneMean) : QVariant();
    case PeakCurrent:
        return row.peakPackCurrent;
    case MotorCase:
        return row.caseSoakPeak;
    case Tightest:
        return row.tightest ? QVariant(row.tightest->margin) : QVariant();
    default:
        return {};
    }
}

QVariant GearTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal) return {};
    if (role == Qt::TextAlignmentRole)
        return int((section == Pair ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    if (role != Qt::DisplayRole) return {};
    switch (section) {
    case Pair:
        return tr("pair");
    case Ratio:
        return tr("ratio");
    case ZoneSpeed:
        return tr("zone %1").arg(units_.symbol(Dimension::Speed));
    case PeakCurrent:
        return tr("peak A");
    case MotorCase:
        return tr("motor %1").arg(units_.symbol(Dimension::Temperature));
    case Tightest:
        return tr("tightest");
    default:
        return {};
    }
}

} // namespace rw
