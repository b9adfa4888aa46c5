// A bar in a cell of a table: what was known (wide, pale), what is known now (narrow, solid), ticks and marks on one
// axis. All places are in the unit of the axis.
#pragma once

#include "app/desktop/shared/figure_table.h"
#include "plotting/range.h"

#include <QMetaType>

#include <optional>

namespace rw {

struct BarCell {
    Range axis;
    std::optional<Range> pale, solid;
    std::optional<double> tick;    // thin line over the bar: the old value, the mean
    std::optional<double> target;  // dotted line through the row
    std::optional<double> diamond; // what was seen
    bool grey = false;             // told, but of no weight
    bool outside = false;          // the diamond lies outside: warned by colour, said in words beside
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

} // namespace rw

Q_DECLARE_METATYPE(rw::BarCell)
