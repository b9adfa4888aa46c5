// Charts of what the garage remembers: a vehicle's passes, a pack's resistance, a motor's heat.
#pragma once

#include "app/desktop/shared/units.h"
#include "plotting/chart.h"
#include "storage/garage.h"

namespace rw {

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
