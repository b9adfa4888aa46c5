// Dates and clocks of UTC as texts.
#pragma once

#include <ctime>
#include <string>

namespace rw {

[[nodiscard]] std::string utcText(std::time_t seconds); // "2026-11-25T15:22:52", of seconds from 1970
[[nodiscard]] std::string utcNow();                     // "2026-11-25T15:22:52Z"

} // namespace rw
