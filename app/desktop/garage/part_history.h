// What the garage remembers of a thing: the list of what was kept, and the chart of its history.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/units.h"
#include "plotting/chart.h"
#include "storage/garage.h"

#include <QWidget>

#include <vector>

namespace rw {

// The passes of a vehicle, pack or motor; of everything for what has none of its own.
[[nodiscard]] PassFilter passesOf(std::optional<Id> id);

class KeptList : public QWidget {
    Q_OBJECT
public:
    explicit KeptList(const Desk& desk);
    void showLogs(Garage& garage, Id outing);
    void showPasses(Garage& garage, PassFilter filter);

signals:
    void openWanted(rw::Id id); // a log or a pass

private:
    void fill(const QString& heading, const QStringList& header, ValueRows rows);

    Desk desk_;
    std::vector<Id> ids_; // of the rows
    TextLabel* heading_ = nullptr;
    ValueTable* table_ = nullptr;
};

// Charts of what the garage remembers: a vehicle's passes, a pack's resistance, a motor's heat.
struct HistoryChart {
    ChartContent content;
    std::vector<Id> passes; // of each point of the one series
};

[[nodiscard]] HistoryChart vehicleChart(const std::vector<TimeLineEntry>& line, const Units& units);
[[nodiscard]] HistoryChart packChart(const std::vector<PackPoint>& points, const Units& units);
[[nodiscard]] HistoryChart motorChart(const std::vector<MotorPoint>& points, const Units& units);

// One sentence under the chart.
[[nodiscard]] QString packSentence(const std::vector<PackPoint>& points);
[[nodiscard]] QString motorSentence(const std::vector<MotorPoint>& points, const Units& units);

} // namespace rw
