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
    table_->setColumnHidden(PassTableModel::Session, true);    // the ribbon tells the session,
    table_->setColumnHidden(PassTableModel::Controller, true); // the table of all figures the rest
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    table_->horizontalHeader()->setMinimumSectionSize(4 * gridStep);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep / 2);
    column->addWidget(new TextLabel(tr("Passes"), Type::Heading));
    column->addWidget(table_, 1);

    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, [this](const QModelIndex& now) {
        if (!following_ && now.isValid()) review_.goToPass(static_cast<std::size_t>(sorted_->mapToSource(now).row()));
    });
    connect(&review, &ReviewDesk::passChosen, this, &PassPanel::followChoice);
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
