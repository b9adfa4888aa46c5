// What belongs to a log besides its bytes, as the texts that a garage keeps: what the owner said of its judging, and
// measured speed from a receiver of its own.
#pragma once

#include "core/log/gps.h"
#include "storage/values.h"

#include <optional>
#include <string>
#include <vector>

namespace rw {

// What the owner says of a log besides setup, outing, column map and moved boundaries. It wins over what the garage
// knows.
struct LogSaid {
    std::vector<int> cells;           // none: by plan and resting voltage; one: for all sessions
    std::optional<double> cutoffCell; // V per cell
    double trackNudge = 0.0;          // s
    std::optional<int> polePairs;     // of the motor
    std::optional<double> rate_Hz;    // rows a second
    Values limits;                    // own limits and thresholds as they were then (storage/own_limits.h)
    bool operator==(const LogSaid&) const = default;
};
// As the JSON that a log keeps, and back; "" says nothing. Throws InputError where it is none.
[[nodiscard]] std::string writeLogSaid(const LogSaid& said);
[[nodiscard]] LogSaid readLogSaid(const std::string& json);

// Measured speed as the JSON that a log keeps, and back, bit for bit. Throws InputError where it is none.
[[nodiscard]] std::string writeTrack(const GpsTrack& track);
[[nodiscard]] GpsTrack readTrack(const std::string& json);

} // namespace rw
