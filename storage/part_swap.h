// One part of a setup exchanged for another: what comes along, and what the vehicle weighs then. Pure functions.
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

struct PartSwap {
    Setup setup; // with the part, its values, and the vehicle's mass
    // kg; none: what one of the two weighs is not known, and the vehicle's mass stays as it is.
    std::optional<double> massChange_kg;
};
// A motor, controller, pack, tyre or vehicle put in place of the setup's; the vehicle's mass changes by the difference
// of what the two weigh where both tell it (motor.mass_kg, controller.mass_kg, pack.mass_kg). Throws InputError for a
// gear or what is no part of a setup.
[[nodiscard]] PartSwap swapPart(Setup setup, const Part& part);

} // namespace rw
