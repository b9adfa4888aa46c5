// Pieces that the JSON of several results share.
#pragma once

#include "core/plan/plan.h"
#include "core/plan/worth.h"

#include <nlohmann/json.hpp>

#include <optional>

namespace rw {

[[nodiscard]] inline nlohmann::ordered_json jsonOrNull(std::optional<double> value) {
    return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}
[[nodiscard]] nlohmann::ordered_json marginsJson(const std::vector<Margin>& margins);
[[nodiscard]] nlohmann::ordered_json worthJson(const Worth& worth);

} // namespace rw
