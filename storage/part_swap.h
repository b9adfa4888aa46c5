// One part of a setup exchanged for another: what comes along. Pure functions.
#pragma once

#include "storage/values.h"

#include <string>
#include <string_view>
#include <vector>

namespace rw {

// The driver's settings of a part, which another part takes over unless it tells its own: timing, endpoint, throttle
// rate, cutoff, charge.
[[nodiscard]] bool isSetting(std::string_view key);

// `all` with the values of a part of that kind in place of those that were there.
[[nodiscard]] Values valuesWithPart(Values all, ItemKind kind, const Values& part);

} // namespace rw
