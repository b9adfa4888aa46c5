#include "app/desktop/review/pass_table_model.h"

#include "app/desktop/review/review_units.h"

namespace rw {

QString cutWords(ReviewPass::Cut cut) {
    switch (cut) {
    case ReviewPass::Cut::SessionStart:
        return PassTableModel::tr("Cut: the session begins within it");
    case ReviewPass::Cut::SessionEnd:
        return PassTableModel::tr("Cut: its session ends within it");
    case ReviewPass::Cut::LogEnd:
        return PassTableModel::tr("Cut: the log ends within it");
    case ReviewPass::Cut::Restart:
        return PassTableModel::tr("Cut: the controller restarted");
    case ReviewPass::Cut::None:
        break;
    }
    return {};
}

PassTableModel::PassTableModel(ReviewDesk& review, QObject* parent)
    : QAbstractTableModel(parent)
    , review_(review) {
    const auto reset = [this] {
        beginResetModel();
        endResetModel();
    };
    connect(&review, &ReviewDesk::dataChanged, this, reset);
    connect(&review.desk().units, &Units::changed, this, reset);
}

int PassTableModel::rowCount(const QModelIndex& parent) const {
    const auto data = review_.data();
    return parent.isValid() || !data ? 0 : static_cast<int>(data->review->passes.size());
}

int PassTableModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : ColumnCount; }

std::optional<double> PassTableModel::noted(std::size_t row) const {
    const auto data = review_.data();
    if (!data || row >= data->noted.size() || data->noted[row].speeds.empty()) return std::nullopt;
    return data->noted[row].speeds.front().mps; // through the zone stands before the peak
}

std::optional<double> PassTableModel::raw(const ReviewPass& pass, std::size_t row, int column) const {
    switch (column) {
    case Number:
        return static_cast<double>(row + 1);
    case Session:
        return static_cast<double>(pass.session + 1);
    case Speed:
        return bestSpeed(pass);
    case Current:
        return pass.peakCurrent;
    case Cell:
        return pass.minCellVoltage ? pass.minCellVoltage : pass.minVoltage;
    case Motor:
        return hottest(pass.motor);
    case Controller:
        return hottest(pass.controller);
    case Pack:
        return hottest(pass.pack);
    case Noted:
        return noted(row);
    default:
        return std::nullopt;
    }
}

QString PassTableModel::shown(const ReviewPass& pass, std::size_t row, int column) const {
    const Units& units = review_.desk().units;
    const std::optional<double> value = raw(pass, row, column);
    switch (column) {
    case Number:
        return QString::number(row + 1) + (pass.complete ? QString() : QStringLiteral(" …"));
    case Session:
        return QString::number(pass.session + 1);
    case Noted:
        return units.figure(Dimension::Speed, value);
    case Speed: {
        const bool bound = !pass.zoneSpeed && pass.speedPeak && pass.speedPeakLowerBound;
        return (bound ? QStringLiteral("≥ ") : QString()) + units.figure(Dimension::Speed, value);
    }
    case Current:
        return units.figure(Dimension::Current, value);
    case Cell:
        return units.figure(Dimension::Voltage, value);
    default: {
        const UnitView view = viewOf(Quantity::MotorTemperature, units).unit;
        return value ? figure(view.shown(*value), 0) : QStringLiteral("–");
    }
    }
}

QVariant PassTableModel::data(const QModelIndex& index, int role) const {
    const auto data = review_.data();
    if (!data || !index.isValid()) return {};
    const auto row = static_cast<std::size_t>(index.row());
    const ReviewPass& pass = data->review->passes[row];
    if (role == Qt::DisplayRole) return shown(pass, row, index.column());
    if (role == Qt::TextAlignmentRole) return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    if (role == RawRole) {
        const auto value = raw(pass, row, index.column());
        return value ? QVariant(*value) : QVariant();
    }
    if (role == Qt::ToolTipRole && index.column() == Number && !pass.complete) {
        return cutWords(pass.cutBy);
    }
    if (role == Qt::ToolTipRole && index.column() == Speed) {
        return pass.zoneSpeed   ? tr("Mean over the plan's timed zone")
               : pass.speedPeak ? tr("Highest measured speed")
                                : tr("Highest speed of the wheels, by gearing and tyre growth");
    }
    return {};
}

QVariant PassTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal) return {};
    if (role == Qt::TextAlignmentRole) return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    const Units& units = review_.desk().units;
    const QString degree = units.symbol(Dimension::Temperature);
    if (role == Qt::DisplayRole) {
        switch (section) {
        case Number:
            return tr("no.");
        case Session:
            return tr("session");
        case Speed:
            return units.symbol(Dimension::Speed);
        case Current:
            return QStringLiteral("A");
        case Cell:
            return tr("V/cell");
        case Motor:
            return tr("motor %1").arg(degree);
        case Controller:
            return tr("ctrl %1").arg(degree);
        case Pack:
            return tr("pack %1").arg(degree);
        case Noted:
            return tr("noted");
        default:
            return {};
        }
    }
    if (role == Qt::ToolTipRole) {
        switch (section) {
        case Speed:
            return tr("Speed over the timed zone where a plan tells it, else the highest");
        case Current:
            return tr("Highest pack current");
        case Cell:
            return tr("Lowest pack voltage, per cell where the count is known");
        case Motor:
            return tr("Highest motor temperature, the soak after the pass counted");
        case Controller:
            return tr("Highest controller temperature, the soak after the pass counted");
        case Pack:
            return tr("Highest pack temperature, the soak after the pass counted");
        case Noted:
            return tr("A speed that was read off, %1").arg(units.symbol(Dimension::Speed));
        default:
            return {};
        }
    }
    return {};
}

PassFiguresModel::PassFiguresModel(ReviewDesk& review, QObject* parent)
    : QAbstractTableModel(parent)
    , review_(review) {
    connect(&review, &ReviewDesk::dataChanged, this, [this] {
        beginResetModel();
        keepTold();
        endResetModel();
    });
    connect(&review.desk().units, &Units::changed, this, [this] {
        beginResetModel();
        endResetModel();
    });
    keepTold();
}

void PassFiguresModel::keepTold() {
    figures_.clear();
    const auto data = review_.data();
    if (!data) return;
    for (const PassFigure& figure : passFigures()) {
        for (const ReviewPass& pass : data->review->passes) {
            if (!figure.get(pass)) continue;
            figures_.push_back(figure);
            break;
        }
    }
}

int PassFiguresModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(figures_.size());
}

int PassFiguresModel::columnCount(const QModelIndex& parent) const {
    const auto data = review_.data();
    return parent.isValid() || !data ? 0 : 2 + static_cast<int>(data->review->passes.size());
}

QVariant PassFiguresModel::data(const QModelIndex& index, int role) const {
    const auto data = review_.data();
    if (!data || !index.isValid()) return {};
    const PassFigure& what = figures_[static_cast<std::size_t>(index.row())];
    if (role == Qt::TextAlignmentRole) {
        return QVariant((index.column() < 2 ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    }
    if (role != Qt::DisplayRole && role != RawRole) return {};
    const UnitView view = figureView(what, review_.desk().units);
    if (index.column() == 0) return QString::fromUtf8(what.title);
    if (index.column() == 1) return view.symbol;
    const std::optional<double> value = what.get(data->review->passes[static_cast<std::size_t>(index.column() - 2)]);
    if (role == RawRole) return value ? QVariant(*value) : QVariant();
    return value ? figure(view.shown(*value), view.decimals) : QStringLiteral("–");
}

QVariant PassFiguresModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal) return {};
    if (role == Qt::TextAlignmentRole)
        return QVariant((section < 2 ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    if (role != Qt::DisplayRole) return {};
    if (section == 0) return tr("figure");
    return section == 1 ? tr("unit") : tr("pass %1").arg(section - 1);
}

} // namespace rw
