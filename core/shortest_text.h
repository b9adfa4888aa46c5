// Numbers as text for documents.
#pragma once

#include <array>
#include <charconv>
#include <string>

namespace rw {

// The shortest text that reads back to the same double; "inf" and "nan" for what is not finite.
[[nodiscard]] inline std::string shortestText(double value) {
    std::array<char, 32> buffer{};
    return {buffer.data(), std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr};
}

} // namespace rw
