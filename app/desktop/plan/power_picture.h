// The trade-off of the power table as a chart: zone speed across, what is left of the tightest limit up, the unbeaten
// rows joined and named, the bench's own and the picked one ringed.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/choose/choose_power.h"
#include "plotting/chart.h"

#include <functional>
#include <vector>

namespace rw {

struct PowerPicture {
    ChartContent content;
    std::vector<std::vector<std::size_t>> rows; // of the first series: the rows of their points
};

// picked: null for none. There is a row at least.
[[nodiscard]] PowerPicture powerPicture(const ChooseResult& result,
                                        const std::function<QString(const ChooseRow&)>& name, const PlanInput& bench,
                                        const ChooseRow* picked, const Units& units);

} // namespace rw
