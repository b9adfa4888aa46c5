// Measured speed: GPX 1.1 tracks and NMEA 0183 sentences (RMC, GGA, VTG, ZDA). README.md 1 "Measured speed".
// Distances are geodesics on the WGS84 ellipsoid (GeographicLib, Karney 2013, doi 10.1007/s00190-012-0578-z).
#pragma once

#include <cstddef>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct GpsFix {
    double time = 0.0;      // s since 1970-01-01 UTC; since midnight of the first day where no sentence tells a date
    double latitude = 0.0;  // deg, north positive
    double longitude = 0.0; // deg, east positive
    double elevation = std::numeric_limits<double>::quiet_NaN(); // m above mean sea level; NaN: not told
    double speed = std::numeric_limits<double>::quiet_NaN();     // m/s over ground; see speedMeasured
    bool speedMeasured = false; // told by the receiver; else from neighbouring positions
};

struct GpsTrack {
    std::string file;
    std::string format;         // "GPX" or "NMEA"
    std::vector<GpsFix> fixes;  // by rising time; every fix has a speed unless it stands alone
    std::size_t refused = 0;    // bad sentences or track points: checksum, fields, ranges, no time, time not rising
    std::size_t withoutFix = 0; // valid sentences that say there is no fix
    double rate_Hz = 0.0;       // fixes a second: 1 over the median step; 0 with fewer than two fixes
    bool dated = false;         // times are absolute
    std::vector<std::string> notes;
};

// Under this many fixes a second a peak speed is a lower bound. Receivers of 5 Hz stamp a shade less; 4.9 itself, to
// the rounding of stamps, still counts.
inline constexpr double gpsPeakRate_Hz = 4.9;
[[nodiscard]] inline bool tooFewFixes(double rate_Hz, double least_Hz = gpsPeakRate_Hz) {
    constexpr double rounding = 1e-3;
    return rate_Hz < least_Hz - rounding;
}

// The format is told by content. Throws InputError when it is neither, or when fewer than two fixes can be used.
[[nodiscard]] GpsTrack readGps(std::string_view bytes, const std::string& fileName);
[[nodiscard]] GpsTrack readGpsFile(const std::string& path);
[[nodiscard]] GpsTrack readGpx(std::string_view bytes, const std::string& fileName);
[[nodiscard]] GpsTrack readNmea(std::string_view bytes, const std::string& fileName);

// Fills the speeds that no receiver told (speedMeasured false): distance over time from the fix before to the fix
// after, at the ends from the only neighbour. Times rise. Returns how many it filled; none with fewer than two fixes.
std::size_t speedsFromPlaces(std::span<GpsFix> fixes);

// m along the geodesic between two places, deg. NaN for places that are none.
[[nodiscard]] double groundDistance(double latitude1, double longitude1, double latitude2, double longitude2);

} // namespace rw
