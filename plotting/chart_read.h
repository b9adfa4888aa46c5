// What a chart says in numbers: values under a cursor, ranges of its content, CSV. No plot library here.
#pragma once

#include "plotting/chart.h"

namespace rw {

// Linear between neighbours; NaN outside the data and next to a NaN. x ascending.
[[nodiscard]] double interpolated(const std::vector<double>& x, const std::vector<double>& y, double at);

// What the axes have to span. Fixed ranges are kept; else the data with a little air, from zero where asked.
[[nodiscard]] Range xRangeOf(const ChartContent& content);
[[nodiscard]] Range yRangeOf(const ChartContent& content);

// "88 m", then "name value unit" for each named series that has a value there.
[[nodiscard]] QStringList defaultReadout(const ChartContent& content, double x);
[[nodiscard]] QString axisNumber(const ChartAxis& axis, double value);

[[nodiscard]] QString chartCsv(const ChartContent& content);

} // namespace rw
