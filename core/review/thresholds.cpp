#include "core/review/thresholds.h"

#include "core/error.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

constexpr auto fields = std::to_array<ThresholdField>({
#define X(name, value, unit, reason) {#name, value, unit, reason, &ReviewThresholds::name},
    RUNWRIGHT_REVIEW_THRESHOLDS(X)
#undef X
});

} // namespace

std::span<const ThresholdField> thresholdFields() { return fields; }

void setThreshold(ReviewThresholds& thresholds, std::string_view name, double value) {
    const auto* field = std::ranges::find(fields, name, &ThresholdField::name);
    if (field == fields.end()) throw InputError(std::string(name), "is no threshold of a review");
    if (!std::isfinite(value)) throw InputError(std::string(name), "expected a finite number");
    thresholds.*(field->value) = value;
}

} // namespace rw
