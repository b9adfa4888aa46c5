// Labels as boxes have them: sizes that go together, within their usual ranges. The same seed, the same labels.
#pragma once

#include "core/plan/labels_input.h"

#include <cstdint>

namespace rw::testing {

[[nodiscard]] LabelsInput randomLabels(std::uint64_t seed);

} // namespace rw::testing
