// A table of figures: digits in cells of one width, rows of the house's height, Ctrl+C copies what is chosen as text.
#pragma once

#include "app/desktop/shared/widgets.h"

#include <QAbstractTableModel>
#include <QStringList>
#include <QStyledItemDelegate>
#include <QTableView>
#include <QVariant>

#include <functional>
#include <optional>
#include <vector>

namespace rw {

// Roles that a model may answer to.
enum FigureTableRole { ToneRole = Qt::UserRole + 50 }; // a Tone (widgets.h) as int, for the text's colour

class FigureDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

class FigureTable : public QTableView {
    Q_OBJECT
public:
    explicit FigureTable(QWidget* parent = nullptr);
    // Of this model, under this name; rows are chosen one at a time unless said otherwise.
    FigureTable(QAbstractItemModel* model, const QString& name,
                SelectionMode mode = QAbstractItemView::SingleSelection);
    void setModel(QAbstractItemModel* model) override;
    // Chosen rows, or all where none is chosen, with the header, tabs between cells.
    [[nodiscard]] QString asText() const;
    [[nodiscard]] int neededWidth(int column) const; // of its cells in sight and its head

signals:
    void rowActivated(int row);
    void resized(); // there is another room for the columns

protected:
    void resizeEvent(QResizeEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;
};

// A cell: text for people, the raw value for whoever sorts or tests, a tone.
struct ValueCell {
    QString text;
    QVariant raw{}; // SI
    Tone tone = Tone::Ink;
    bool strong = false;
    QString help{};
};

using ValueRows = std::vector<std::vector<ValueCell>>;

// What a row shows, by its number; null: there is no such row.
template<class Row>
[[nodiscard]] const Row* atRow(const std::vector<Row>& rows, int row) {
    return row >= 0 && row < static_cast<int>(rows.size()) ? &rows[static_cast<std::size_t>(row)] : nullptr;
}

// Of a figure that may not be known.
[[nodiscard]] QVariant rawOf(std::optional<double> value);

class ValueTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Role { RawRole = Qt::UserRole };
    // leftColumns: so many columns from the left hold words; the rest are figures, aligned right.
    explicit ValueTableModel(int leftColumns, QObject* parent = nullptr);

    void setRows(const QStringList& header, ValueRows rows);
    // As many rows as there are: each cell is made when it is looked at. helps: tool tips of the head.
    using Cells = std::function<ValueCell(std::size_t row, std::size_t column)>;
    void setCells(const QStringList& header, std::size_t rows, Cells cells, const QStringList& helps = {});

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override { return parent.isValid() ? 0 : rows_; }
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    int leftColumns_;
    QStringList header_, helps_;
    int rows_ = 0;
    Cells cells_;
};

// A table with rows of its own.
class ValueTable : public FigureTable {
    Q_OBJECT
public:
    ValueTable(int leftColumns, const QString& name, SelectionMode mode = QAbstractItemView::SingleSelection)
        : FigureTable(new ValueTableModel(leftColumns), name, mode)
        , values_(static_cast<ValueTableModel*>(model())) {
        values_->setParent(this);
    }
    [[nodiscard]] ValueTableModel& values() { return *values_; }
    void setRows(const QStringList& header, ValueRows rows) { values_->setRows(header, std::move(rows)); }

private:
    ValueTableModel* values_;
};

} // namespace rw
