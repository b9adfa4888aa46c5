// Any bytes as NMEA 0183. Checksums of the lines are made right first, or hardly any input would come past them.
#include "tests/fuzz/gps_promises.h"

#include <cstdio>
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

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = rw::fuzz::asText(data, size);
    rw::fuzz::promiseTrack(rw::readNmea, text);
    rw::fuzz::promiseTrack(rw::readNmea, withChecksums(text));
    return 0;
}
