// A table of figures: digits in cells of one width, rows of the house's height, Ctrl+C copies what is chosen as text.
#pragma once

#include <QStyledItemDelegate>
#include <QTableView>

namespace rw {

// Roles that a model may answer to.
enum FigureTableRole { ToneRole = Qt::UserRole + 50 }; // a Tone (labels.h) as int, for the text's colour

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

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;
};

} // namespace rw
