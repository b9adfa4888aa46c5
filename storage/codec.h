// Packing and fingerprints of bytes: Zstandard (RFC 8878), SHA-256 (FIPS 180-4), base64 (RFC 4648).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

namespace rw {

[[nodiscard]] std::string sha256Hex(std::string_view bytes); // 64 small hexadecimal digits

// One frame that names its content's size and ends with a checksum.
[[nodiscard]] std::string zstdPack(std::string_view bytes);
// Throws std::runtime_error where the frame is broken or its content is longer than `largest`, before memory for it is
// taken.
[[nodiscard]] std::string zstdUnpack(std::string_view frame, std::int64_t largest);

// SHA-256 and length of a frame's content, without holding it. Throws like zstdUnpack.
[[nodiscard]] std::pair<std::string, std::int64_t> zstdFingerprint(std::string_view frame, std::int64_t largest);

[[nodiscard]] std::string base64Encode(std::string_view bytes);
// Throws std::runtime_error where it is not base64 with padding, without line breaks.
[[nodiscard]] std::string base64Decode(std::string_view text);

} // namespace rw
