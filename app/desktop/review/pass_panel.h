// The pass table beside the findings: sortable, a click brings the pass into view.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "app/desktop/shared/figure_table.h"

#include <QWidget>

#include <vector>

class QSortFilterProxyModel;

namespace rw {

// Passes as rows: what a person compares first. Text for display, the value as logged (SI) under RawRole for sorting.
class PassTableModel : public ValueTableModel {
    Q_OBJECT
public:
    enum Column { Number, Session, Speed, Current, Cell, Motor, Controller, Pack, Noted, ColumnCount };

    explicit PassTableModel(ReviewDesk& review, QObject* parent = nullptr);
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;

private:
    void show();
    [[nodiscard]] std::optional<double> value(std::size_t row, std::size_t column) const; // as logged
    [[nodiscard]] ValueCell cell(std::size_t row, std::size_t column) const;
    ReviewDesk& review_;
    std::shared_ptr<const ReviewData> shown_;
};

// By what a pass was cut; "" where it is whole.
[[nodiscard]] QString cutWords(ReviewPass::Cut cut);

// Every figure of every pass of the log in view: figures as rows, passes as columns. model: with two columns of words.
void showPassFigures(ValueTableModel& model, const ReviewDesk& review);

class PassPanel : public QWidget {
    Q_OBJECT
public:
    explicit PassPanel(ReviewDesk& review);
    [[nodiscard]] FigureTable& table() { return *table_; }

signals:
    void noteWanted(); // of the chosen pass: double click or Enter

private:
    void followChoice();
    void hideUntold();
    void measureColumns(); // where figures or their heads are others
    void fitColumns();
    ReviewDesk& review_;
    FigureTable* table_;
    QSortFilterProxyModel* sorted_;
    std::vector<int> needed_; // pixels, a column: hundreds of rows are measured for it
    bool following_ = false;
};

} // namespace rw
