// The unit in which a person reads a field: that of its dimension as it is switched, or the one of its trade where size
// or habit asks for another (%, mΩ, ns, g·cm²). The one place for it, for window, pages and command line.
#pragma once

#include "core/dimension.h"
#include "core/plan/plan_fields.h"

namespace rw {

// From the key's own unit: shown = value * factor + offset. Decimals are not told: they depend on the value.
[[nodiscard]] ShownUnit fieldUnit(const FieldInfo& field, const UnitChoice& choice);

} // namespace rw
