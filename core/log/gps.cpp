#include "core/log/gps.h"

#include "core/error.h"
#include "core/log/integrals.h"
#include "core/parallel.h"
#include "core/system/input_file.h"

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <atomic>
#include <cmath>
#include <numbers>

namespace rw {
namespace {

constexpr std::size_t mostGpsBytes = 500'000'000;

std::vector<double> stamps(const GpsTrack& track) {
    std::vector<double> time;
    time.reserve(track.fixes.size());
    for (const GpsFix& fix : track.fixes)
        time.push_back(fix.time);
    return time;
}

void fillSpeeds(GpsTrack& track) {
    const std::size_t filled = speedsFromPlaces(track.fixes);
    if (filled == 0) return;
    track.notes.push_back("Speed over ground is worked out from neighbouring positions for " + std::to_string(filled) +
                          " of " + std::to_string(track.fixes.size()) + " fixes; the receiver told none there.");
}

GpsTrack finish(GpsTrack track) {
    if (track.fixes.size() < 2) {
        throw InputError(track.file, "holds " + std::to_string(track.fixes.size()) +
                                         (track.fixes.size() == 1 ? " usable fix (" : " usable fixes (") +
                                         std::to_string(track.refused) + " refused, " +
                                         std::to_string(track.withoutFix) + " without a fix); at least two are needed");
    }
    fillSpeeds(track);
    track.rate_Hz = 1.0 / medianStep(stamps(track));
    if (tooFewFixes(track.rate_Hz))
        track.notes.emplace_back("The receiver gives fewer than 5 fixes a second: its peak speed is a lower bound.");
    return track;
}

} // namespace

std::size_t speedsFromPlaces(std::span<GpsFix> fixes) {
    if (fixes.size() < 2) return 0;
    constexpr std::size_t chunk = 16'384; // fixes; shorter tracks are not worth a second thread
    const std::size_t chunks = (fixes.size() + chunk - 1) / chunk;
    std::atomic<std::size_t> filled{0};
    parallelFor(threadCount(0), chunks, [&](std::size_t k, bool) {
        std::size_t here = 0;
        for (std::size_t i = k * chunk; i < std::min(fixes.size(), (k + 1) * chunk); ++i) {
            if (fixes[i].speedMeasured) continue;
            const GpsFix& before = fixes[i > 0 ? i - 1 : 0];
            const GpsFix& after = fixes[std::min(i + 1, fixes.size() - 1)];
            const double distance = groundDistance(before.latitude, before.longitude, after.latitude, after.longitude);
            fixes[i].speed = distance / (after.time - before.time);
            ++here;
        }
        filled += here;
    });
    return filled;
}

double groundDistance(double latitude1, double longitude1, double latitude2, double longitude2) {
    // Nearly all of a track's steps are short: there the mid-latitude formula, with the ellipsoid's two radii of
    // curvature, differs from the geodesic by some (s/R)², under 1e-8, and takes a fiftieth of the time.
    constexpr double near = 0.01, farFromPoles = 80.0; // deg
    const double north = latitude2 - latitude1, east = longitude2 - longitude1;
    if (std::abs(north) < near && std::abs(east) < near && std::abs(latitude1) < farFromPoles) {
        constexpr double toRadians = std::numbers::pi / 180.0;
        constexpr double axis = 6378137.0, flattening = 1.0 / 298.257223563; // WGS84, NIMA TR8350.2
        constexpr double e2 = flattening * (2.0 - flattening);
        const double middle = toRadians * (latitude1 + north / 2.0), sine = std::sin(middle);
        const double w2 = 1.0 - e2 * sine * sine, w = std::sqrt(w2);
        const double meridian = axis * (1.0 - e2) / (w2 * w), prime = axis / w;
        const double y = meridian * north, x = prime * std::cos(middle) * east;
        return toRadians * std::sqrt(x * x + y * y);
    }
    double distance = 0.0;
    GeographicLib::Geodesic::WGS84().Inverse(latitude1, longitude1, latitude2, longitude2, distance);
    return distance;
}

GpsTrack readGps(std::string_view bytes, const std::string& fileName) {
    const std::size_t first = bytes.find_first_not_of("\xEF\xBB\xBF \t\r\n");
    if (first == std::string_view::npos) throw InputError(fileName, "is empty; a GPX or NMEA file is expected");
    if (bytes[first] == '<') return finish(readGpx(bytes, fileName));
    if (bytes.substr(0, 4096).find('$') != std::string_view::npos) return finish(readNmea(bytes, fileName));
    throw InputError(fileName, "is neither GPX (starts with <) nor NMEA 0183 (sentences that start with $)");
}

GpsTrack readGpsFile(const std::string& path) {
    const InputFile file(path, mostGpsBytes);
    return readGps(file.bytes(), path);
}

} // namespace rw
