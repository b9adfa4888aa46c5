// Passes as rows: what a person compares first. Text for display, the value as logged (SI) under RawRole for sorting.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QAbstractTableModel>

namespace rw {

class PassTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { Number, Session, Speed, Current, Cell, Motor, Controller, Pack, Noted, ColumnCount };
    enum Role { RawRole = Qt::UserRole + 1 };

    explicit PassTableModel(ReviewDesk& review, QObject* parent = nullptr);
    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    [[nodiscard]] std::optional<double> noted(std::size_t row) const; // m/s
    [[nodiscard]] std::optional<double> raw(const ReviewPass& pass, std::size_t row, int column) const;
    [[nodiscard]] QString shown(const ReviewPass& pass, std::size_t row, int column) const;
    ReviewDesk& review_;
};

// By what a pass was cut; "" where it is whole.
[[nodiscard]] QString cutWords(ReviewPass::Cut cut);

// Every figure of every pass: figures as rows, passes as columns.
class PassFiguresModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Role { RawRole = Qt::UserRole + 1 };
    explicit PassFiguresModel(ReviewDesk& review, QObject* parent = nullptr);
    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    void keepTold();
    ReviewDesk& review_;
    std::vector<PassFigure> figures_; // those that at least one pass has
};

} // namespace rw
