// A table of figures with a column of bars, as high as its rows: the page scrolls, not the table.
#pragma once

#include "app/desktop/shared/figure_table.h"
#include "plotting/range.h"

#include <QMetaType>

#include <optional>

namespace rw {

// A bar in a cell of a table: what was known (wide, pale), what is known now (narrow, solid), ticks and marks on one
// axis. All places are in the unit of the axis.
struct BarCell {
    Range axis;
    std::optional<Range> pale{}, solid{};
    std::optional<double> tick{};    // thin line over the bar: the old value, the mean
    std::optional<double> target{};  // dotted line through the row
    std::optional<double> diamond{}; // what was seen
    bool grey = false;               // told, but of no weight
    bool outside = false;            // the diamond lies outside: warned by colour, said in words beside
};

enum BarRole { BarCellRole = Qt::UserRole + 60 }; // a BarCell

// Draws bars, wraps words where a column's cells are longer than it is wide, else as FigureDelegate.
class BarDelegate : public FigureDelegate {
    Q_OBJECT
public:
    using FigureDelegate::FigureDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    void setWrapped(int column) { wrapped_ = column; } // −1: none

private:
    int wrapped_ = -1;
};

// Rows of ready cells with their bars.
struct TaughtTable {
    QStringList header;
    ValueRows rows;
    std::vector<std::optional<BarCell>> bars; // of each row
    int barColumn = 0;
    std::vector<int> source; // index into what the rows show; −1: a row that only divides
    // One more row; without a source it shows what stands at its own number.
    void add(std::vector<ValueCell> cells, const std::optional<BarCell>& bar, std::optional<int> of = {}) {
        source.push_back(of.value_or(static_cast<int>(rows.size())));
        rows.push_back(std::move(cells));
        bars.push_back(bar);
    }
};

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
    BarTable(const QString& name, int leftColumns, int stretched);
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

Q_DECLARE_METATYPE(rw::BarCell)
