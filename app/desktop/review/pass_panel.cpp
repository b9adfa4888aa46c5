#include "app/desktop/review/pass_panel.h"

#include "app/desktop/review/pass_table_model.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/units.h"

#include <QEvent>
#include <QHeaderView>
#include <QSortFilterProxyModel>
#include <QVBoxLayout>

#include <algorithm>
#include <array>
#include <vector>

namespace rw {

namespace {

constexpr std::array dispensable{PassTableModel::Pack, PassTableModel::Cell}; // the table of all figures has them

// Says in the head by what the passes are sorted, unless they stand as they were run.
class PassOrder : public QSortFilterProxyModel {
public:
    using QSortFilterProxyModel::QSortFilterProxyModel;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override {
        const QVariant told = QSortFilterProxyModel::headerData(section, orientation, role);
        const bool rising = sortOrder() == Qt::AscendingOrder;
        const bool asRun = section == PassTableModel::Number && rising;
        if (role != Qt::DisplayRole || orientation != Qt::Horizontal || section != sortColumn() || asRun) return told;
        return (rising ? QStringLiteral("↑ ") : QStringLiteral("↓ ")) + told.toString();
    }
    void sort(int column, Qt::SortOrder order) override {
        QSortFilterProxyModel::sort(column, order);
        emit headerDataChanged(Qt::Horizontal, 0, columnCount() - 1);
    }
};

} // namespace

PassPanel::PassPanel(ReviewDesk& review, QWidget* parent)
    : QWidget(parent)
    , review_(review)
    , table_(new FigureTable)
    , sorted_(new PassOrder(this)) {
    sorted_->setSourceModel(new PassTableModel(review, this));
    sorted_->setSortRole(PassTableModel::RawRole);
    table_->setModel(sorted_);
    table_->setAccessibleName(tr("Passes"));
    table_->setSortingEnabled(true);
    table_->sortByColumn(PassTableModel::Number, Qt::AscendingOrder);
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    table_->horizontalHeader()->setMinimumSectionSize(3 * gridStep);
    table_->viewport()->installEventFilter(this);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep / 2);
    column->addWidget(new TextLabel(tr("Passes"), Type::Heading));
    column->addWidget(table_, 1);

    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, [this](const QModelIndex& now) {
        if (!following_ && now.isValid()) review_.goToPass(static_cast<std::size_t>(sorted_->mapToSource(now).row()));
    });
    connect(table_, &FigureTable::rowActivated, this, &PassPanel::noteWanted);
    connect(&review, &ReviewDesk::passChosen, this, &PassPanel::followChoice);
    connect(&review, &ReviewDesk::dataChanged, this, &PassPanel::fitColumns);
    connect(&review.desk().units, &Units::changed, this, &PassPanel::fitColumns);
    connect(sorted_, &QAbstractItemModel::headerDataChanged, this, &PassPanel::fitColumns);
    fitColumns();
}

// The ribbon tells the session, the table of all figures the controller; what no pass has takes no room.
void PassPanel::hideUntold() {
    for (const int column : {PassTableModel::Session, PassTableModel::Controller})
        table_->setColumnHidden(column, true);
    table_->setColumnHidden(PassTableModel::Cell, false);
    for (const int column : {PassTableModel::Motor, PassTableModel::Pack, PassTableModel::Noted}) {
        bool told = column == PassTableModel::Motor;
        for (int row = 0; row < sorted_->rowCount() && !told; ++row)
            told = sorted_->index(row, column).data(PassTableModel::RawRole).isValid();
        table_->setColumnHidden(column, !told);
    }
}

// Every head and figure whole: what is too much gives way, the rest shares the room.
void PassPanel::fitColumns() {
    hideUntold();
    std::vector<int> shown;
    int left = table_->viewport()->width();
    for (int column = 0; column < sorted_->columnCount(); ++column) {
        if (table_->isColumnHidden(column)) continue;
        shown.push_back(column);
        left -= table_->neededWidth(column);
    }
    for (const int column : dispensable) {
        if (left >= 0 || std::erase(shown, column) == 0) continue;
        left += table_->neededWidth(column);
        table_->setColumnHidden(column, true);
    }
    for (const int column : shown)
        table_->setColumnWidth(column, table_->neededWidth(column) +
                                           std::max(0, left) / std::max(1, static_cast<int>(shown.size())));
}

bool PassPanel::eventFilter(QObject* watched, QEvent* event) {
    if (watched == table_->viewport() && event->type() == QEvent::Resize) fitColumns();
    return QWidget::eventFilter(watched, event);
}

void PassPanel::followChoice() {
    following_ = true;
    const auto pass = review_.pass();
    if (pass) {
        table_->selectRow(sorted_->mapFromSource(sorted_->sourceModel()->index(static_cast<int>(*pass), 0)).row());
    } else {
        table_->clearSelection();
        table_->setCurrentIndex({});
    }
    following_ = false;
}

} // namespace rw
