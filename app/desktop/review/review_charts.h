// From a reviewed log to what is drawn of it: lanes, and passes laid over each other. Pure; for the window and for the
// page.
#pragma once

#include "app/desktop/review/review_data.h"
#include "app/desktop/shared/units.h"
#include "plotting/chart.h"

#include <span>
#include <vector>

namespace rw {

// hidden: quantities that the person does not want to see.
[[nodiscard]] LanesContent lanesOf(const ReviewData& data, const Units& units, const std::vector<Quantity>& hidden);
// "session 2 · 6 cells · 25.0 V"
[[nodiscard]] QString sessionLabel(const ReviewData& data, std::size_t session, const Units& units);

// Passes laid over each other as a chart: from the throttle's start, over time or distance, the plan's prediction as
// one more line. Pure; for the tab and for the page.
struct OverlayPass {
    const ReviewData& data;
    std::size_t pass = 0;
    QString name;
};

struct OverlayWish {
    Quantity quantity = Quantity::Speed;
    CompareAxis axis = CompareAxis::Time;
    bool planned = true; // what the plan expected of the first pass from its own start, where a plan fits it
};

// What a log can show over its passes, in the order of lanes; speed stands first where it comes from the wheels.
[[nodiscard]] std::vector<Quantity> overlayQuantities(const ReviewData& data);
// As many passes as there are colours; the rest is left out.
[[nodiscard]] ChartContent overlayOf(std::span<const OverlayPass> passes, const OverlayWish& wish, const Units& units);

} // namespace rw
