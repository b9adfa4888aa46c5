// Any bytes as GPX.
#include "tests/fuzz/gps_promises.h"

#include <cstddef>
#include <optional>
#include <string>

namespace {

std::optional<rw::GpsTrack> read(std::string_view text) {
    try {
        return rw::readGpx(text, "track");
    } catch (const rw::InputError&) {
        return std::nullopt;
    }
}

// Blanks behind the document make it long enough to be read in pieces: the same must come out.
void readInPieces(std::string_view text) {
    if (text.size() < 2 || text[0] != '<' || text[1] == '\0') return; // blanks are none in UTF-16
    constexpr std::size_t enough = 1'000'000;
    const std::optional<rw::GpsTrack> whole = read(text), pieces = read(std::string(text) + std::string(enough, ' '));
    using rw::fuzz::promise;
    promise(whole.has_value() == pieces.has_value(), "refused in pieces as it is whole");
    if (!whole) return;
    promise(whole->fixes.size() == pieces->fixes.size() && whole->refused == pieces->refused &&
                whole->withoutFix == pieces->withoutFix,
            "as many fixes in pieces as whole");
    for (std::size_t i = 0; i < whole->fixes.size(); ++i)
        promise(whole->fixes[i].time == pieces->fixes[i].time && whole->fixes[i].latitude == pieces->fixes[i].latitude,
                "the same fixes in pieces as whole");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = rw::fuzz::asText(data, size);
    readInPieces(text);
    rw::fuzz::promiseTrack(rw::readGpx, text);
    return 0;
}
