// A table of figures with a column of bars, as high as its rows: the page scrolls, not the table.
#pragma once

#include "app/desktop/review/bar_cell.h"
#include "app/desktop/review/taught_rows.h"
#include "app/desktop/shared/value_table_model.h"

namespace rw {

class BarTableModel : public ValueTableModel {
    Q_OBJECT
public:
    using ValueTableModel::ValueTableModel;
    void setTable(TaughtTable table);
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
    [[nodiscard]] int sourceOf(int row) const; // −1: a row that only divides

private:
    std::vector<std::optional<BarCell>> bars_;
    std::vector<int> source_;
    int barColumn_ = -1;
};

class BarTable : public FigureTable {
    Q_OBJECT
public:
    // stretched: the column that takes the room that is left; its words wrap.
    BarTable(const QString& name, int leftColumns, int stretched, QWidget* parent = nullptr);
    void setTable(TaughtTable table);
    [[nodiscard]] BarTableModel& rows() { return *rows_; }

signals:
    void chosen(int source); // a click or Enter on a row

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void fit();
    BarTableModel* rows_;
    BarDelegate* delegate_;
    int stretched_;
};

} // namespace rw
