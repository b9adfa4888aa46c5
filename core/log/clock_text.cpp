#include "core/log/clock_text.h"

#include "core/log/column_map.h"

#include <cmath>

namespace rw {

std::optional<std::string> clockText(const Log& log, double stamp) {
    if (log.report.timeForm != timeFormName(TimeForm::Clock) && log.report.timeForm != timeFormName(TimeForm::Iso8601))
        return {};
    constexpr long minute = 60, hour = 3600, day = 86400; // s
    const long seconds = ((std::lround(std::floor(stamp)) % day) + day) % day;
    const auto two = [](long value) { return (value < 10 ? "0" : "") + std::to_string(value); };
    return two(seconds / hour) + ":" + two(seconds % hour / minute) + ":" + two(seconds % minute);
}

} // namespace rw
