// From a reviewed log to lanes: sessions as segments, cutoff as hatch and shaded spans, limits in their lanes, the
// plan's prediction over every pass. Pure.
#pragma once

#include "app/desktop/review/review_data.h"
#include "app/desktop/shared/units.h"

namespace rw {

// hidden: quantities that the person does not want to see.
[[nodiscard]] LanesContent lanesOf(const ReviewData& data, const Units& units, const std::vector<Quantity>& hidden);
// "session 2 · 6 cells · 25.0 V"
[[nodiscard]] QString sessionLabel(const ReviewData& data, std::size_t session, const Units& units);

} // namespace rw
