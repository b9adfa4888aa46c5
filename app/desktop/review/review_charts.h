// From a reviewed log to what is drawn of it: lanes, and passes laid over each other, pure, for the window and for the
// page; and the pictures of that page.
#pragma once

#include "app/desktop/pages/review_page.h"
#include "app/desktop/review/review_data.h"
#include "app/desktop/shared/task_arguments.h"
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

// Pictures of a reviewed log for its page: the lanes of the best pass with cutoff and limits, the passes over each
// other, the temperatures of the day. In the light look. Interface thread only: they are painted by widgets.
[[nodiscard]] std::vector<ReviewPicture> reviewPictures(const ReviewData& data, const Units& units);

// The fastest complete pass, else the one with the highest current; none where there is no pass.
[[nodiscard]] std::optional<std::size_t> bestPassOf(const LogReview& review);

// A review as a page without a window: `runwright --review LOG… --to OUT.pdf`.
[[nodiscard]] int printReview(const TaskArguments& arguments);

} // namespace rw
