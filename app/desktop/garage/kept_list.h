// What was kept, one row each: the logs of an outing, or the passes of a vehicle, pack or motor, newest first. A double
// click or Enter opens the log in Review, at that pass.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/value_table_model.h"
#include "storage/garage.h"

#include <QWidget>

#include <vector>

namespace rw {

// The passes of a vehicle, pack or motor; of everything for what has none of its own.
[[nodiscard]] PassFilter passesOf(std::optional<Id> id);

class FigureTable;

class KeptList : public QWidget {
    Q_OBJECT
public:
    explicit KeptList(const Desk& desk, QWidget* parent = nullptr);
    void showLogs(Garage& garage, Id outing);
    void showPasses(Garage& garage, PassFilter filter);

signals:
    void openWanted(rw::Id id); // a log or a pass

private:
    void fill(const QString& heading, const QStringList& header, std::vector<std::vector<ValueCell>> rows);

    Desk desk_;
    std::vector<Id> ids_; // of the rows
    TextLabel* heading_ = nullptr;
    ValueTableModel* model_ = nullptr;
    FigureTable* table_ = nullptr;
};

} // namespace rw
