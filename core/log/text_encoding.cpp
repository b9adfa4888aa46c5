#include "core/log/text_encoding.h"

#include <algorithm>
#include <cstdint>

namespace rw {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD"; // U+FFFD

unsigned byteAt(std::string_view bytes, std::size_t i) { return static_cast<unsigned char>(bytes[i]); }

void appendUtf8(std::string& out, std::uint32_t code) {
    const auto put = [&out](std::uint32_t byte) { out.push_back(static_cast<char>(byte)); };
    if (code < 0x80) {
        put(code);
    } else if (code < 0x800) {
        put(0xC0 | (code >> 6));
        put(0x80 | (code & 0x3F));
    } else if (code < 0x10000) {
        put(0xE0 | (code >> 12));
        put(0x80 | ((code >> 6) & 0x3F));
        put(0x80 | (code & 0x3F));
    } else {
        put(0xF0 | (code >> 18));
        put(0x80 | ((code >> 12) & 0x3F));
        put(0x80 | ((code >> 6) & 0x3F));
        put(0x80 | (code & 0x3F));
    }
}

// Length of the whole UTF-8 character at i by Unicode table 3-7; 0: none starts here; beyond the end: as announced.
std::size_t characterLength(std::string_view bytes, std::size_t i) {
    const unsigned lead = byteAt(bytes, i);
    if (lead < 0x80) return 1;
    const std::size_t length = lead >= 0xF0 ? 4 : (lead >= 0xE0 ? 3 : 2);
    if (lead < 0xC2 || lead > 0xF4) return 0;
    unsigned low = 0x80, high = 0xBF;
    if (lead == 0xE0) low = 0xA0;
    if (lead == 0xED) high = 0x9F;
    if (lead == 0xF0) low = 0x90;
    if (lead == 0xF4) high = 0x8F;
    for (std::size_t k = 1; k < length && i + k < bytes.size(); ++k) {
        const unsigned next = byteAt(bytes, i + k);
        if (next < low || next > high) return 0;
        low = 0x80;
        high = 0xBF;
    }
    return length;
}

} // namespace

TextEncoding detectEncoding(std::string_view bytes) {
    if (bytes.starts_with("\xEF\xBB\xBF")) return TextEncoding::Utf8Bom;
    if (bytes.starts_with("\xFF\xFE")) return TextEncoding::Utf16Le;
    if (bytes.starts_with("\xFE\xFF")) return TextEncoding::Utf16Be;
    const std::size_t pairs = std::min<std::size_t>(bytes.size(), 4096) / 2;
    std::size_t zeroFirst = 0, zeroSecond = 0;
    for (std::size_t i = 0; i < pairs; ++i) {
        zeroFirst += bytes[2 * i] == '\0';
        zeroSecond += bytes[2 * i + 1] == '\0';
    }
    // A header with some letters beyond Latin-1 still has zeros in more than half of the pairs, and on one side only.
    if (2 * zeroSecond > pairs && 20 * zeroFirst < pairs) return TextEncoding::Utf16Le;
    if (2 * zeroFirst > pairs && 20 * zeroSecond < pairs) return TextEncoding::Utf16Be;
    return TextEncoding::Utf8;
}

std::size_t bomLength(std::string_view bytes, TextEncoding encoding) {
    switch (encoding) {
    case TextEncoding::Utf8:
    case TextEncoding::Utf8Bom:
        return bytes.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    case TextEncoding::Utf16Le:
        return bytes.starts_with("\xFF\xFE") ? 2 : 0;
    case TextEncoding::Utf16Be:
        return bytes.starts_with("\xFE\xFF") ? 2 : 0;
    case TextEncoding::Latin1:
        return 0;
    }
    return 0;
}

std::string utf8FromUtf16(std::string_view bytes, bool bigEndian) {
    const auto unit = [&](std::size_t i) {
        const unsigned first = byteAt(bytes, 2 * i), second = byteAt(bytes, 2 * i + 1);
        return bigEndian ? first << 8 | second : second << 8 | first;
    };
    const std::size_t units = bytes.size() / 2;
    std::string out;
    out.reserve(units + units / 16);
    for (std::size_t i = 0; i < units; ++i) {
        const std::uint32_t code = unit(i);
        const bool high = code >= 0xD800 && code < 0xDC00, low = code >= 0xDC00 && code < 0xE000;
        if (high && i + 1 < units && unit(i + 1) >= 0xDC00 && unit(i + 1) < 0xE000) {
            appendUtf8(out, 0x10000 + ((code - 0xD800) << 10) + (unit(i + 1) - 0xDC00));
            ++i;
        } else {
            appendUtf8(out, high || low ? 0xFFFD : code);
        }
    }
    return out;
}

std::string utf8FromLatin1(std::string_view bytes) {
    std::string out;
    out.reserve(bytes.size());
    for (std::size_t i = 0; i < bytes.size(); ++i)
        appendUtf8(out, byteAt(bytes, i));
    return out;
}

std::string validUtf8(std::string_view bytes) {
    std::string out;
    for (std::size_t i = 0; i < bytes.size();) {
        const std::size_t length = characterLength(bytes, i);
        if (length == 0 || i + length > bytes.size()) {
            out += replacement;
            ++i;
        } else {
            out += bytes.substr(i, length);
            i += length;
        }
    }
    return out;
}

Utf8Tally tallyUtf8(std::string_view bytes) {
    Utf8Tally tally;
    for (std::size_t i = 0; i < bytes.size();) {
        const std::size_t length = characterLength(bytes, i);
        if (length == 0)
            ++tally.wrongBytes;
        else if (length > 1 && i + length <= bytes.size())
            ++tally.characters;
        i += length == 0 ? 1 : length;
    }
    return tally;
}

} // namespace rw
