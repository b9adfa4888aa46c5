// Resistance of the pack from one pass. core/review/README.md. Internal to core/review.
#pragma once

#include "core/review/context.h"

namespace rw::review {

struct PackResistance {
    double ohm = 0.0, standardError = 0.0;
};
// cut: spans in which the cutoff acts. None where the pass does not determine it.
[[nodiscard]] std::optional<PackResistance> packResistance(const Context& context, const ReviewPass& pass,
                                                           const std::vector<CutSpan>& cut);

} // namespace rw::review
