// What every reader of tracks promises of any bytes.
#pragma once

#include "core/error.h"
#include "core/log/gps.h"
#include "tests/fuzz/fuzz_target.h"

#include <cmath>
#include <string>

namespace rw::fuzz {

// `read` is one of readGpx and readNmea.
inline void promiseTrack(GpsTrack (*read)(std::string_view, const std::string&), std::string_view text) {
    try {
        const GpsTrack track = read(text, "track");
        for (std::size_t i = 0; i < track.fixes.size(); ++i) {
            const GpsFix& fix = track.fixes[i];
            promise(std::isfinite(fix.time) && std::abs(fix.latitude) <= 90.0 && std::abs(fix.longitude) <= 180.0,
                    "a fix is a place and a time");
            promise(i == 0 || fix.time > track.fixes[i - 1].time, "fixes rise in time");
        }
        (void)readGps(text, "track");
    } catch (const InputError& error) {
        promiseOneLine(error.what());
    }
}

} // namespace rw::fuzz
