// Which encoding bytes are in, and text as UTF-8.
#pragma once

#include "core/log/column_map.h"

#include <cstddef>
#include <string>
#include <string_view>

namespace rw {

// A byte order mark decides; without one, zero bytes in every other place tell UTF-16 (RFC 2781 would have big-endian;
// files in practice are either). Anything else is Utf8 until Utf8Tally says that it cannot be.
[[nodiscard]] TextEncoding detectEncoding(std::string_view bytes);
[[nodiscard]] std::size_t bomLength(std::string_view bytes, TextEncoding encoding);

// Whole UTF-16 text without its mark; half a character at the end is dropped, lone surrogates become U+FFFD.
[[nodiscard]] std::string utf8FromUtf16(std::string_view bytes, bool bigEndian);
[[nodiscard]] std::string utf8FromLatin1(std::string_view bytes);
// Bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string validUtf8(std::string_view bytes);

struct Utf8Tally {
    std::size_t characters = 0; // of more than one byte
    std::size_t wrongBytes = 0; // an incomplete character at the very end is not counted
    // Latin-1 text hardly ever makes whole UTF-8 characters by chance.
    [[nodiscard]] bool plausible() const { return wrongBytes == 0 || characters > wrongBytes; }
};
[[nodiscard]] Utf8Tally tallyUtf8(std::string_view bytes);

} // namespace rw
