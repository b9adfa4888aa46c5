// Fingerprints and packing against their standards.
#include "storage/codec.h"

#include <gtest/gtest.h>

namespace rw::test {

namespace {

std::string bytes(std::initializer_list<int> values) {
    std::string out;
    for (const int value : values)
        out += static_cast<char>(value);
    return out;
}

} // namespace

TEST(Sha256, givesTheExamplesOfFips180) {
    // FIPS 180-4, example messages of the Secure Hash Standard: "abc", the 448-bit message, a million times "a"; empty:
    // CAVP short messages.
    EXPECT_EQ(sha256Hex(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    EXPECT_EQ(sha256Hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    EXPECT_EQ(sha256Hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
              "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    EXPECT_EQ(sha256Hex(std::string(1'000'000, 'a')),
              "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Zstandard, framesBeginAsRfc8878SaysAndKnownFramesAreRead) {
    // RFC 8878, section 3.1.1: magic number 0xFD2FB528, little-endian.
    EXPECT_EQ(zstdPack("abc").substr(0, 4), bytes({0x28, 0xB5, 0x2F, 0xFD}));
    // A frame with one raw block and a checksum (sections 3.1.1.1 and 3.1.1.2), content size in the header.
    const std::string abc =
        bytes({0x28, 0xB5, 0x2F, 0xFD, 0x24, 0x03, 0x19, 0x00, 0x00, 0x61, 0x62, 0x63, 0x99, 0x09, 0x77, 0xAD});
    EXPECT_EQ(zstdUnpack(abc, 100), "abc");
    EXPECT_EQ(zstdFingerprint(abc, 100), std::pair(sha256Hex("abc"), std::int64_t{3}));
    EXPECT_EQ(zstdUnpack(bytes({0x28, 0xB5, 0x2F, 0xFD, 0x24, 0x00, 0x01, 0x00, 0x00, 0x99, 0xE9, 0xD8, 0x51}), 100),
              "");
    // A frame of a stream names no content size: the fingerprint alone reads it, in bounded memory.
    const std::string stream =
        bytes({0x28, 0xB5, 0x2F, 0xFD, 0x04, 0x58, 0x19, 0x00, 0x00, 0x61, 0x62, 0x63, 0x99, 0x09, 0x77, 0xAD});
    EXPECT_EQ(zstdFingerprint(stream, 100).second, 3);
    EXPECT_THROW(static_cast<void>(zstdUnpack(stream, 100)), std::runtime_error);
}

TEST(Zstandard, refusesBrokenFramesAndSizesBeforeMemoryIsTaken) {
    const std::string frame = zstdPack(std::string(100'000, 'x'));
    EXPECT_EQ(zstdUnpack(frame, 100'000), std::string(100'000, 'x'));
    EXPECT_THROW(static_cast<void>(zstdUnpack(frame, 99'999)), std::runtime_error);
    for (std::size_t i = 0; i < frame.size(); ++i) {
        std::string flipped = frame;
        flipped[i] = static_cast<char>(flipped[i] ^ 0x10);
        try {
            EXPECT_EQ(zstdUnpack(flipped, 1'000'000), std::string(100'000, 'x'))
                << "byte " << i; // the checksum catches the rest
        } catch (const std::runtime_error&) {
            SUCCEED();
        }
        EXPECT_THROW(static_cast<void>(zstdUnpack(frame.substr(0, i), 1'000'000)), std::runtime_error);
        EXPECT_THROW(static_cast<void>(zstdFingerprint(frame.substr(0, i), 1'000'000)), std::runtime_error);
    }
    // A header that promises 2^60 bytes (section 3.1.1.1.4, eight-byte field).
    const std::string liar = bytes({0x28, 0xB5, 0x2F, 0xFD, 0xE0, 0, 0, 0, 0, 0, 0, 0, 0x10, 0x01, 0x00, 0x00});
    EXPECT_THROW(static_cast<void>(zstdUnpack(liar, INT64_MAX)), std::runtime_error);
}

TEST(Base64, givesTheVectorsOfRfc4648) {
    // RFC 4648, section 10.
    const std::pair<const char*, const char*> vectors[] = {{"", ""},
                                                           {"f", "Zg=="},
                                                           {"fo", "Zm8="},
                                                           {"foo", "Zm9v"},
                                                           {"foob", "Zm9vYg=="},
                                                           {"fooba", "Zm9vYmE="},
                                                           {"foobar", "Zm9vYmFy"}};
    for (const auto& [plain, coded] : vectors) {
        EXPECT_EQ(base64Encode(plain), coded);
        EXPECT_EQ(base64Decode(coded), plain);
    }
    for (const char* broken : {"Zg", "Zg=", "Z===", "Zg==Zg==", "Z g=", "Zm9v\n", "Zm9*"})
        EXPECT_THROW(static_cast<void>(base64Decode(broken)), std::runtime_error) << broken;
}

} // namespace rw::test
