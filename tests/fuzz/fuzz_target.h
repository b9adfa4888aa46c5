// What a fuzz target is: bytes in; a broken promise aborts, so that every fuzzer and sanitizer notices.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace rw::fuzz {

[[nodiscard]] inline std::string_view asText(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

inline void promise(bool kept, const char* what) {
    if (kept) return;
    std::fprintf(stderr, "broken promise: %s\n", what);
    std::abort();
}

// Complaints are one sentence without a line break.
inline void promiseOneLine(std::string_view complaint) {
    promise(!complaint.empty() && complaint.find('\n') == std::string_view::npos, "a complaint is one line");
}

} // namespace rw::fuzz
