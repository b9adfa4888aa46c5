// A small table of ready-made cells: text for people, the raw value for whoever sorts or tests, a tone.
#pragma once

#include "app/desktop/shared/labels.h"

#include <QAbstractTableModel>
#include <QStringList>
#include <QVariant>

#include <vector>

namespace rw {

struct ValueCell {
    QString text;
    QVariant raw{}; // SI
    Tone tone = Tone::Ink;
    bool strong = false;
    QString help{};
};

class ValueTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Role { RawRole = Qt::UserRole };
    // leftColumns: so many columns from the left hold words; the rest are figures, aligned right.
    explicit ValueTableModel(int leftColumns, QObject* parent = nullptr);

    void setRows(const QStringList& header, std::vector<std::vector<ValueCell>> rows);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    int leftColumns_;
    QStringList header_;
    std::vector<std::vector<ValueCell>> rows_;
};

} // namespace rw
