#include "app/desktop/review/pass_panel.h"

#include "app/desktop/review/pass_table_model.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/labels.h"

#include <QHeaderView>
#include <QSortFilterProxyModel>
#include <QVBoxLayout>

namespace rw {

PassPanel::PassPanel(ReviewDesk& review, QWidget* parent)
    : QWidget(parent)
    , review_(review)
    , table_(new FigureTable)
    , sorted_(new QSortFilterProxyModel(this)) {
    sorted_->setSourceModel(new PassTableModel(review, this));
    sorted_->setSortRole(PassTableModel::RawRole);
    table_->setModel(sorted_);
    table_->setAccessibleName(tr("Passes"));
    table_->setSortingEnabled(true);
    table_->sortByColumn(PassTableModel::Number, Qt::AscendingOrder);
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    table_->horizontalHeader()->setMinimumSectionSize(3 * gridStep);
    // Short figures are as wide as they are; the room goes to the heads that are words.
    const auto fix = [this](int section, const QString& widest) {
        table_->horizontalHeader()->setSectionResizeMode(section, QHeaderView::Fixed);
        table_->horizontalHeader()->resizeSection(section, fontMetrics().horizontalAdvance(widest));
    };
    fix(PassTableModel::Number, QStringLiteral("0000"));
    fix(PassTableModel::Current, QStringLiteral("00000"));
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
    connect(&review, &ReviewDesk::dataChanged, this, &PassPanel::hideUntold);
    hideUntold();
}

// The ribbon tells the session, the table of all figures the controller; what no pass has takes no room.
void PassPanel::hideUntold() {
    for (const int column : {PassTableModel::Session, PassTableModel::Controller})
        table_->setColumnHidden(column, true);
    for (const int column : {PassTableModel::Motor, PassTableModel::Pack, PassTableModel::Noted}) {
        bool told = column == PassTableModel::Motor;
        for (int row = 0; row < sorted_->rowCount() && !told; ++row)
            told = sorted_->index(row, column).data(PassTableModel::RawRole).isValid();
        table_->setColumnHidden(column, !told);
    }
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
