// Factors beside units: "0.1 A", "dA", "rpm x100", "V/10". Internal to core/log.
#pragma once

#include "core/log/unit_text.h"

#include <functional>
#include <optional>
#include <string_view>

namespace rw {

// The unit of that very spelling, without a factor.
using FindPlainUnit = std::function<const Unit*(std::string_view)>;
// A unit with a factor or a decimal prefix; nullopt: none. See findUnit().
[[nodiscard]] std::optional<Unit> unitWithFactor(std::string_view text, const FindPlainUnit& plain);

} // namespace rw
