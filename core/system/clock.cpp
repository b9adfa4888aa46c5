#include "core/system/clock.h"

#include <array>

namespace rw {

std::string utcText(std::time_t seconds) {
    std::tm parts{};
    ::gmtime_r(&seconds, &parts);
    std::array<char, 32> text{};
    return {text.data(), std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S", &parts)};
}

std::string utcNow() { return utcText(std::time(nullptr)) + "Z"; }

} // namespace rw
