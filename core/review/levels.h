// Small judgements that figures and findings share. Internal to core/review.
#pragma once

#include "core/review/context.h"

#include <cmath>

namespace rw::review {

// Full throttle or output: 99.5 %, or the largest value that the column's step allows below 100.5 %.
[[nodiscard]] inline double fullLevel(const Context& context, Quantity q) {
    const double step = context.log[q].step;
    if (!(step > 0.0)) return context.th.fullOutput;
    constexpr double most = 1.005;
    const double reachable = std::floor(most / step + 1e-9) * step;
    return std::min(context.th.fullOutput, reachable) - 1e-9;
}

// False where the sample that tells load from rest is missing.
[[nodiscard]] inline bool restKnown(const Context& context, std::size_t session, std::size_t row) {
    const auto& current = context.scale[session].rest.current;
    return current.empty() || !std::isnan(current[row]);
}

} // namespace rw::review
