// The time of day of a row, where the log's stamps are those of a clock.
#pragma once

#include "core/log/log.h"

#include <optional>
#include <string>

namespace rw {

// "14:05:09"; none where the stamps count from a start of their own.
[[nodiscard]] std::optional<std::string> clockText(const Log& log, double stamp);

} // namespace rw
