#include "core/log/time_text.h"

#include "core/log/ascii_text.h"
#include "core/log/column_map.h"

#include <chrono>
#include <cmath>
#include <cstddef>

namespace rw {

namespace {

// Reads along a text; every step says whether it found what it wanted.
class Cursor {
public:
    explicit Cursor(std::string_view text)
        : text_(text) {}

    bool digits(std::size_t least, std::size_t most, int& value) {
        std::size_t n = 0;
        value = 0;
        while (n < most && n < text_.size() && isDigit(text_[n]))
            value = value * 10 + (text_[n++] - '0');
        if (n < least) return false;
        text_.remove_prefix(n);
        return true;
    }

    bool one(std::string_view allowed, char* found = nullptr) {
        if (text_.empty() || allowed.find(text_.front()) == std::string_view::npos) return false;
        if (found != nullptr) *found = text_.front();
        text_.remove_prefix(1);
        return true;
    }

    // ".5" or ",5"; nothing there is 0. Fifteen digits decide, the rest is passed over.
    bool fraction(double& value) {
        value = 0.0;
        if (!one(".,")) return true;
        double units = 0.0, scale = 1.0;
        std::size_t n = 0;
        for (; n < text_.size() && isDigit(text_[n]); ++n) {
            if (n >= 15) continue;
            units = units * 10.0 + (text_[n] - '0');
            scale *= 10.0;
        }
        if (n == 0) return false;
        text_.remove_prefix(n);
        value = units / scale;
        return true;
    }

    [[nodiscard]] bool atEnd() const { return text_.empty(); }

private:
    std::string_view text_;
};

bool readDate(Cursor& at, std::chrono::sys_days& day) {
    int year = 0, month = 0, dayOfMonth = 0;
    char mark = 0;
    if (!at.digits(4, 4, year)) return false;
    const bool marked = at.one("-/", &mark);
    if (!at.digits(2, 2, month)) return false;
    if (marked && !at.one(std::string_view(&mark, 1))) return false;
    if (!at.digits(2, 2, dayOfMonth) || year < 1) return false;
    const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                           std::chrono::day{static_cast<unsigned>(dayOfMonth)}};
    day = date;
    return date.ok();
}

bool readClock(Cursor& at, double& seconds) {
    int hour = 0, minute = 0, second = 0;
    double part = 0.0;
    if (!at.digits(2, 2, hour)) return false;
    const bool marked = at.one(":");
    if (!at.digits(2, 2, minute)) return false;
    if (!marked || at.one(":")) {
        if (!at.digits(2, 2, second) || !at.fraction(part)) return false;
    }
    seconds = 3600.0 * hour + 60.0 * minute + second + part;
    return hour <= 23 && minute <= 59 && second <= 60;
}

bool readZone(Cursor& at, double& offset) {
    offset = 0.0;
    if (at.atEnd() || at.one("Zz")) return at.atEnd();
    char sign = 0;
    int hour = 0, minute = 0;
    if (!at.one("+-", &sign) || !at.digits(2, 2, hour)) return false;
    if (at.one(":") || !at.atEnd()) {
        if (!at.digits(2, 2, minute)) return false;
    }
    offset = (sign == '-' ? -60.0 : 60.0) * (60.0 * hour + minute);
    return at.atEnd() && hour <= 23 && minute <= 59;
}

} // namespace

std::optional<double> parseIso8601(std::string_view text) {
    Cursor at(text);
    std::chrono::sys_days day;
    double clock = 0.0, zone = 0.0;
    if (!readDate(at, day) || !at.one("Tt ") || !readClock(at, clock) || !readZone(at, zone)) return std::nullopt;
    return 86400.0 * static_cast<double>(day.time_since_epoch().count()) - zone + clock;
}

std::optional<double> parseClock(std::string_view text) {
    Cursor at(text);
    int hour = 0, minute = 0, second = 0;
    double part = 0.0;
    if (!at.digits(1, 2, hour) || !at.one(":") || !at.digits(2, 2, minute) || !at.one(":") ||
        !at.digits(2, 2, second) || !at.fraction(part) || !at.atEnd() || minute > 59 || second > 60)
        return std::nullopt;
    return 3600.0 * hour + 60.0 * minute + second + part;
}

std::optional<double> parseMinutesSeconds(std::string_view text) {
    Cursor at(text);
    int minute = 0, second = 0;
    double part = 0.0;
    if (!at.digits(1, 6, minute) || !at.one(":") || !at.digits(2, 2, second) || !at.fraction(part) || !at.atEnd() ||
        second > 59)
        return std::nullopt;
    return 60.0 * minute + second + part;
}

std::optional<std::string> clockText(const Log& log, double stamp) {
    if (log.report.timeForm != timeFormName(TimeForm::Clock) && log.report.timeForm != timeFormName(TimeForm::Iso8601))
        return {};
    constexpr long minute = 60, hour = 3600, day = 86400; // s
    const long seconds = ((std::lround(std::floor(stamp)) % day) + day) % day;
    const auto two = [](long value) { return (value < 10 ? "0" : "") + std::to_string(value); };
    return two(seconds / hour) + ":" + two(seconds % hour / minute) + ":" + two(seconds % minute);
}

} // namespace rw
