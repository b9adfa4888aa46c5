// The pass table beside the findings: sortable, a click brings the pass into view.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

class QSortFilterProxyModel;

namespace rw {

class FigureTable;

class PassPanel : public QWidget {
    Q_OBJECT
public:
    explicit PassPanel(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] FigureTable& table() { return *table_; }

signals:
    void noteWanted(); // of the chosen pass: double click or Enter

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void followChoice();
    void hideUntold();
    void fitColumns();
    ReviewDesk& review_;
    FigureTable* table_;
    QSortFilterProxyModel* sorted_;
    bool following_ = false;
};

} // namespace rw
