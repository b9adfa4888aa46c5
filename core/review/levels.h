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

// Output that rises nearly as fast as it did since the pass began is a ramp on its way up, whatever voltage and current
// do meanwhile. Held back, it rises slower, if at all.
[[nodiscard]] inline bool stillRising(const Context& context, const ReviewPass& pass, Rows run) {
    const auto output = context[Quantity::Output];
    const double within = context.time[run.last] - context.time[run.first],
                 before = context.time[run.first] - context.time[pass.startRow];
    if (!(within > 0.0) || !(before > 0.0)) return true;
    const double now = (output[run.last] - output[run.first]) / within,
                 then = (output[run.first] - output[pass.startRow]) / before;
    return now > context.th.rampKink * then;
}

} // namespace rw::review
