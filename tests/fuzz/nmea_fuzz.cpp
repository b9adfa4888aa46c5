// Any bytes as NMEA 0183. Checksums of the lines are made right first, or hardly any input would come past them.
#include "core/error.h"
#include "core/log/gps.h"
#include "tests/fuzz/fuzz_target.h"

#include <cmath>
#include <string>

namespace {

std::string withChecksums(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        std::string_view line = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        const std::size_t dollar = line.find('$');
        if (dollar != std::string_view::npos) line.remove_prefix(dollar + 1);
        line = line.substr(0, line.find('*'));
        unsigned sum = 0;
        for (const char c : line)
            sum ^= static_cast<unsigned char>(c);
        char tail[8];
        std::snprintf(tail, sizeof tail, "*%02X\r\n", sum);
        out.append("$").append(line).append(tail);
    }
    return out;
}

void readOnce(std::string_view text) {
    using rw::fuzz::promise;
    try {
        const rw::GpsTrack track = rw::readNmea(text, "track");
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
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    readOnce(rw::fuzz::asText(data, size));
    readOnce(withChecksums(rw::fuzz::asText(data, size)));
    return 0;
}
