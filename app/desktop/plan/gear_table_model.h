// Rows of the gear table as cells. SortRole holds the raw SI value; text is for display only.
#pragma once

#include "core/plan/gears.h"

#include <QAbstractTableModel>

#include <memory>

namespace rw {

class Units;

class GearTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { Pair, Ratio, ZoneSpeed, PeakCurrent, MotorCase, Tightest, Count_ };
    enum Role { RawRole = Qt::UserRole, BrokenRole, FittedRole };

    explicit GearTableModel(const Units& units, QObject* parent = nullptr);

    void setTable(std::shared_ptr<const GearTable> table);
    void setFitted(int pinion, int spur); // the pair on the bench
    void refresh();                       // the unit switch turned
    [[nodiscard]] const GearTable* table() const { return table_.get(); }
    [[nodiscard]] int fittedRow() const; // -1: not among them

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    [[nodiscard]] QString text(const GearRow& row, int column) const;
    [[nodiscard]] QVariant raw(const GearRow& row, int column) const;

    const Units& units_;
    std::shared_ptr<const GearTable> table_;
    int pinion_ = 0, spur_ = 0;
};

} // namespace rw
