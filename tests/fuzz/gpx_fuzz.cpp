// Any bytes as GPX.
#include "core/error.h"
#include "core/log/gps.h"
#include "tests/fuzz/fuzz_target.h"

#include <cmath>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using rw::fuzz::promise;
    const std::string_view text = rw::fuzz::asText(data, size);
    try {
        const rw::GpsTrack track = rw::readGpx(text, "track");
        for (std::size_t i = 0; i < track.fixes.size(); ++i) {
            const rw::GpsFix& fix = track.fixes[i];
            promise(std::isfinite(fix.time) && std::abs(fix.latitude) <= 90.0 && std::abs(fix.longitude) <= 180.0,
                    "a fix is a place and a time");
            promise(i == 0 || fix.time > track.fixes[i - 1].time, "fixes rise in time");
        }
        (void)rw::readGps(text, "track");
    } catch (const rw::InputError& error) {
        rw::fuzz::promiseOneLine(error.what());
    }
    return 0;
}
