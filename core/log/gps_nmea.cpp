// NMEA 0183: RMC (position, speed, date), GGA (position, height), VTG (speed), ZDA (date). Any talker.
// Sentences that share a time of day make one fix.
#include "core/log/gps.h"
#include "core/log/number_text.h"
#include "core/units.h"

#include <array>
#include <chrono>
#include <cmath>
#include <fast_float/fast_float.h>
#include <optional>

namespace rw {
namespace {

constexpr double day_s = 86400.0;
// Two-digit years from 80 on are 19xx: the satellites' time began in 1980.
constexpr int centuryPivot = 80;
constexpr std::size_t mostFields = 32;

std::optional<int> whole(std::string_view text) {
    int value = 0;
    if (text.empty() || text.size() > 6) return std::nullopt;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

int hexDigit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return -1;
}

// The part between $ and * of a sentence whose checksum (the XOR of that part) is right; else nothing.
std::string_view checkedBody(std::string_view line) {
    const std::size_t dollar = line.find('$');
    if (dollar == std::string_view::npos) return {};
    line.remove_prefix(dollar + 1);
    const std::size_t star = line.find('*');
    if (star == std::string_view::npos || line.size() != star + 3) return {};
    int sum = 0;
    for (const char c : line.substr(0, star))
        sum ^= static_cast<unsigned char>(c);
    const int high = hexDigit(line[star + 1]), low = hexDigit(line[star + 2]);
    return high >= 0 && low >= 0 && sum == high * 16 + low ? line.substr(0, star) : std::string_view();
}

struct Fields {
    std::array<std::string_view, mostFields> text{};
    std::size_t count = 0;
    [[nodiscard]] std::string_view operator[](std::size_t i) const { return i < count ? text[i] : std::string_view(); }
};

Fields split(std::string_view body) {
    Fields fields;
    while (fields.count < mostFields) {
        const std::size_t comma = body.find(',');
        fields.text[fields.count++] = body.substr(0, comma);
        if (comma == std::string_view::npos) break;
        body.remove_prefix(comma + 1);
    }
    return fields;
}

// ddmm.mmm with its hemisphere → deg.
std::optional<double> angle(std::string_view text, std::string_view hemisphere, std::size_t degreeDigits, char positive,
                            char negative) {
    if (text.size() < degreeDigits + 2 || hemisphere.size() != 1) return std::nullopt;
    const std::optional<int> degrees = whole(text.substr(0, degreeDigits));
    const std::optional<double> minutes = finiteNumber(text.substr(degreeDigits));
    if (!degrees || !minutes || *minutes < 0.0 || *minutes >= 60.0) return std::nullopt;
    const double value = *degrees + *minutes / 60.0;
    if (value > (degreeDigits == 2 ? 90.0 : 180.0)) return std::nullopt;
    if (hemisphere[0] != positive && hemisphere[0] != negative) return std::nullopt;
    return hemisphere[0] == negative ? -value : value;
}

// hhmmss.ss → s since midnight.
std::optional<double> timeOfDay(std::string_view text) {
    if (text.size() < 6) return std::nullopt;
    const std::optional<int> hour = whole(text.substr(0, 2)), minute = whole(text.substr(2, 2));
    const std::optional<double> second = finiteNumber(text.substr(4));
    if (!hour || !minute || !second || *hour > 23 || *minute > 59 || *second < 0.0 || *second >= 61.0)
        return std::nullopt;
    return 3600.0 * *hour + 60.0 * *minute + *second;
}

std::optional<double> dateSeconds(int year, int month, int day) {
    const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                           std::chrono::day{static_cast<unsigned>(day)}};
    if (!date.ok()) return std::nullopt;
    return day_s * static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count());
}

// ddmmyy → s since 1970 of that midnight.
std::optional<double> dateOf(std::string_view text) {
    if (text.size() != 6) return std::nullopt;
    const std::optional<int> day = whole(text.substr(0, 2)), month = whole(text.substr(2, 2)),
                             year = whole(text.substr(4));
    if (!day || !month || !year) return std::nullopt;
    return dateSeconds(*year + (*year >= centuryPivot ? 1900 : 2000), *month, *day);
}

enum class Verdict { Used, Refused, NoFix, Ignored };

class NmeaReader {
public:
    explicit NmeaReader(GpsTrack& track)
        : track_(track) {}

    void line(std::string_view text) {
        while (!text.empty() && (text.back() == '\r' || text.back() == ' ' || text.back() == '\0'))
            text.remove_suffix(1);
        if (text.empty()) return;
        const std::string_view body = checkedBody(text);
        switch (body.empty() ? Verdict::Refused : sentence(split(body))) {
        case Verdict::Refused:
            ++track_.refused;
            break;
        case Verdict::NoFix:
            ++track_.withoutFix;
            break;
        case Verdict::Used:
        case Verdict::Ignored:
            break;
        }
    }

    // The fix gathered so far goes into the track.
    void flush() {
        if (!placed_) return;
        fix_.time = midnight_ + clock_;
        if (!track_.fixes.empty() && fix_.time <= track_.fixes.back().time)
            ++track_.refused;
        else
            track_.fixes.push_back(fix_);
        placed_ = false;
        fix_ = GpsFix();
    }

private:
    Verdict sentence(const Fields& f) {
        if (f[0].size() != 5) return Verdict::Ignored;
        const std::string_view kind = f[0].substr(2);
        if (kind == "RMC") return rmc(f);
        if (kind == "GGA") return gga(f);
        if (kind == "VTG") return vtg(f);
        if (kind == "ZDA") return zda(f);
        return Verdict::Ignored;
    }

    // A new time of day ends the fix before; half a day back is the next midnight.
    void at(double clock) {
        if (clock == clock_) return;
        flush();
        if (clock < clock_ - day_s / 2.0) midnight_ += day_s;
        clock_ = clock;
    }

    void date(double midnight) {
        // Fixes before the first date was told belong to the day that it tells.
        if (!track_.dated)
            for (GpsFix& fix : track_.fixes)
                fix.time += midnight - midnight_;
        track_.dated = true;
        midnight_ = midnight;
    }

    void place(double latitude, double longitude) {
        placed_ = true;
        fix_.latitude = latitude;
        fix_.longitude = longitude;
    }

    void speed(double metresPerSecond) {
        if (!placed_) return;
        fix_.speed = metresPerSecond;
        fix_.speedMeasured = true;
    }

    Verdict rmc(const Fields& f) {
        if (f.count < 10) return Verdict::Refused;
        if (f[2] == "V") return Verdict::NoFix;
        const auto clock = timeOfDay(f[1]), day = dateOf(f[9]), knots = finiteNumber(f[7]);
        if (f[2] != "A" || !clock || !day || (knots && *knots < 0.0)) return Verdict::Refused;
        const auto latitude = angle(f[3], f[4], 2, 'N', 'S'), longitude = angle(f[5], f[6], 3, 'E', 'W');
        if (!latitude || !longitude) return Verdict::Refused;
        at(*clock);
        date(*day);
        place(*latitude, *longitude);
        if (knots) speed(*knots * mpsPerKnot);
        return Verdict::Used;
    }

    Verdict gga(const Fields& f) {
        if (f.count < 11) return Verdict::Refused;
        if (f[6] == "0" || f[6].empty()) return Verdict::NoFix;
        const auto clock = timeOfDay(f[1]);
        const auto latitude = angle(f[2], f[3], 2, 'N', 'S'), longitude = angle(f[4], f[5], 3, 'E', 'W');
        if (!clock || !latitude || !longitude) return Verdict::Refused;
        at(*clock);
        place(*latitude, *longitude);
        if (const auto height = finiteNumber(f[9]); height && f[10] == "M") fix_.elevation = *height;
        return Verdict::Used;
    }

    // Has no time of its own: it belongs to the fix being gathered.
    Verdict vtg(const Fields& f) {
        if (f.count < 9) return Verdict::Refused;
        if (f[9] == "N") return Verdict::NoFix;
        if (f[5].empty() && f[7].empty()) return Verdict::NoFix;
        const auto knots = finiteNumber(f[5]), kilometresPerHour = finiteNumber(f[7]);
        if ((!knots && !kilometresPerHour) || (knots && *knots < 0.0)) return Verdict::Refused;
        speed(knots ? *knots * mpsPerKnot : *kilometresPerHour / kmhPerMps);
        return Verdict::Used;
    }

    // The zone fields tell the local zone; the time is UTC already.
    Verdict zda(const Fields& f) {
        if (f.count < 5) return Verdict::Refused;
        const auto clock = timeOfDay(f[1]);
        const auto day = whole(f[2]), month = whole(f[3]), year = whole(f[4]);
        if (!clock || !day || !month || !year) return Verdict::Refused;
        const auto midnight = dateSeconds(*year, *month, *day);
        if (!midnight) return Verdict::Refused;
        at(*clock);
        date(*midnight);
        return Verdict::Used;
    }

    GpsTrack& track_;
    GpsFix fix_;          // gathered for the time of day below
    bool placed_ = false; // it has a position
    double clock_ = std::numeric_limits<double>::quiet_NaN();
    double midnight_ = 0.0;
};

} // namespace

GpsTrack readNmea(std::string_view bytes, const std::string& fileName) {
    GpsTrack track;
    track.file = fileName;
    track.format = "NMEA";
    NmeaReader reader(track);
    while (!bytes.empty()) {
        const std::size_t end = bytes.find_first_of("\r\n");
        reader.line(bytes.substr(0, end));
        bytes.remove_prefix(end == std::string_view::npos ? bytes.size() : end + 1);
    }
    reader.flush();
    return track;
}

} // namespace rw
