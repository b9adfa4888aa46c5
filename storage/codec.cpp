#include "storage/codec.h"

#include "core/error.h"
#include "storage/values.h"

#include <openssl/evp.h>
#include <zstd.h>

#include <array>
#include <memory>
#include <stdexcept>

namespace rw {

namespace {

constexpr int packLevel = 1; // logs are numbers: higher levels cost several times as long for a tenth of the size

struct FreeContext {
    void operator()(ZSTD_CCtx* context) const { ZSTD_freeCCtx(context); }
    void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
    void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};

std::string hexadecimal(const std::array<unsigned char, 32>& digest) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string out;
    for (const unsigned char byte : digest) {
        out += digits[byte >> 4];
        out += digits[byte & 15];
    }
    return out;
}

std::size_t checked(std::size_t code) {
    if (ZSTD_isError(code)) throw std::runtime_error(ZSTD_getErrorName(code));
    return code;
}

const unsigned char* unsignedBytes(std::string_view text) {
    return reinterpret_cast<const unsigned char*>(text.data());
}

} // namespace

std::string sha256Hex(std::string_view bytes) {
    std::array<unsigned char, 32> digest{};
    unsigned length = 0;
    if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1)
        throw std::runtime_error("SHA-256 is not available");
    return hexadecimal(digest);
}

std::string zstdPack(std::string_view bytes) {
    const std::unique_ptr<ZSTD_CCtx, FreeContext> context(ZSTD_createCCtx());
    if (!context) throw std::bad_alloc();
    checked(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_compressionLevel, packLevel));
    checked(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_checksumFlag, 1));
    std::string out(ZSTD_compressBound(bytes.size()), '\0');
    out.resize(checked(ZSTD_compress2(context.get(), out.data(), out.size(), bytes.data(), bytes.size())));
    out.shrink_to_fit();
    return out;
}

std::string zstdUnpack(std::string_view frame, std::int64_t largest) {
    const unsigned long long size = ZSTD_getFrameContentSize(frame.data(), frame.size());
    if (size == ZSTD_CONTENTSIZE_ERROR || size == ZSTD_CONTENTSIZE_UNKNOWN)
        throw std::runtime_error("not one Zstandard frame that names its size");
    if (size > static_cast<unsigned long long>(largest)) throw std::runtime_error("content is too long");
    // A frame cannot hold more than about 2^17 bytes a block of 4: refuse promises that it cannot keep before taking
    // memory.
    if (size / 65536 > frame.size()) throw std::runtime_error("the frame is too short for the size that it names");
    std::string out(static_cast<std::size_t>(size), '\0');
    if (checked(ZSTD_decompress(out.data(), out.size(), frame.data(), frame.size())) != out.size())
        throw std::runtime_error("the frame ends early");
    return out;
}

std::pair<std::string, std::int64_t> zstdFingerprint(std::string_view frame, std::int64_t largest) {
    const std::unique_ptr<ZSTD_DCtx, FreeContext> unpacking(ZSTD_createDCtx());
    const std::unique_ptr<EVP_MD_CTX, FreeContext> hash(EVP_MD_CTX_new());
    if (!unpacking || !hash || EVP_DigestInit_ex(hash.get(), EVP_sha256(), nullptr) != 1) throw std::bad_alloc();
    std::string part(ZSTD_DStreamOutSize(), '\0');
    ZSTD_inBuffer in{frame.data(), frame.size(), 0};
    std::int64_t size = 0;
    std::size_t left = 1;
    while (left != 0) {
        ZSTD_outBuffer out{part.data(), part.size(), 0};
        const std::size_t before = in.pos;
        left = checked(ZSTD_decompressStream(unpacking.get(), &out, &in));
        size += static_cast<std::int64_t>(out.pos);
        if (size > largest) throw std::runtime_error("content is too long");
        EVP_DigestUpdate(hash.get(), part.data(), out.pos);
        if (left != 0 && out.pos == 0 && in.pos == before) throw std::runtime_error("the frame ends early");
    }
    if (in.pos != frame.size()) throw std::runtime_error("something follows the frame");
    std::array<unsigned char, 32> digest{};
    EVP_DigestFinal_ex(hash.get(), digest.data(), nullptr);
    return {hexadecimal(digest), size};
}

std::string base64Encode(std::string_view bytes) {
    std::string out((bytes.size() + 2) / 3 * 4 + 1, '\0'); // EVP_EncodeBlock ends with a NUL
    out.resize(static_cast<std::size_t>(EVP_EncodeBlock(reinterpret_cast<unsigned char*>(out.data()),
                                                        unsignedBytes(bytes), static_cast<int>(bytes.size()))));
    return out;
}

std::string base64Decode(std::string_view text) {
    if (text.size() % 4 != 0) throw std::runtime_error("base64 of a broken length");
    std::size_t padding = 0;
    while (padding < 2 && padding < text.size() && text[text.size() - 1 - padding] == '=')
        ++padding;
    constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    if (text.substr(0, text.size() - padding).find_first_not_of(alphabet) != std::string_view::npos)
        throw std::runtime_error("a character that base64 has not");
    std::string out(text.size() / 4 * 3, '\0');
    const int length = EVP_DecodeBlock(reinterpret_cast<unsigned char*>(out.data()), unsignedBytes(text),
                                       static_cast<int>(text.size()));
    if (length < 0) throw std::runtime_error("not base64");
    out.resize(static_cast<std::size_t>(length) - padding);
    return out;
}

PackedLog packLog(std::string_view bytes) {
    if (bytes.size() > static_cast<std::size_t>(largestLog))
        throw InputError("", "the log is over 2 GB: too large for the garage");
    PackedLog out{sha256Hex(bytes), static_cast<std::int64_t>(bytes.size()), zstdPack(bytes)};
    if (out.zstd.size() > static_cast<std::size_t>(largestPackedLog))
        throw InputError("", "the log is over 900 MB even when packed: too large for the garage");
    return out;
}

} // namespace rw
