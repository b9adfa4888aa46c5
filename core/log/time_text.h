// Times from and to text: ISO 8601 with RFC 3339's forms, clocks, minutes and seconds.
#pragma once

#include "core/log/log.h"

#include <optional>
#include <string>
#include <string_view>

namespace rw {

// s since 1970-01-01T00:00:00Z without leap seconds (23:59:60 is the next midnight); a text without a zone is taken as
// UTC. YYYY-MM-DD or YYYY/MM/DD or YYYYMMDD, then T or a blank, then hh:mm[:ss[.f]] or hhmmss[.f], then Z, ±hh:mm,
// ±hhmm or nothing. The fraction may have a point or a comma. Range: years 1 to 9999. nullopt: not such a text.
[[nodiscard]] std::optional<double> parseIso8601(std::string_view text);

// s since midnight: h:mm:ss with a fraction; hours to 99, seconds to 60.
[[nodiscard]] std::optional<double> parseClock(std::string_view text);

// s: m:ss with a fraction, any number of minutes, seconds under 60.
[[nodiscard]] std::optional<double> parseMinutesSeconds(std::string_view text);

// "14:05:09"; none where the stamps count from a start of their own.
[[nodiscard]] std::optional<std::string> clockText(const Log& log, double stamp);

} // namespace rw
