#include "core/log/text_encoding.h"

#include "tests/log/log_text.h"

#include <gtest/gtest.h>

namespace {

using rw::TextEncoding;
using namespace rw::test;

// UTF-16 of ASCII and Latin-1 letters.
std::string utf16(const std::string& latin1, bool bigEndian, bool mark) {
    std::string out = !mark ? "" : (bigEndian ? "\xFE\xFF" : "\xFF\xFE");
    for (const char c : latin1) {
        if (bigEndian) out += '\0';
        out += c;
        if (!bigEndian) out += '\0';
    }
    return out;
}

TEST(Encoding, byteOrderMarksTellIt) {
    // Unicode 15, chapter 23.8; RFC 3629 section 6; RFC 2781 section 3.2.
    EXPECT_EQ(rw::detectEncoding("\xEF\xBB\xBFtime"), TextEncoding::Utf8Bom);
    EXPECT_EQ(rw::detectEncoding(std::string("\xFF\xFEt\0", 4)), TextEncoding::Utf16Le);
    EXPECT_EQ(rw::detectEncoding(std::string("\xFE\xFF\0t", 4)), TextEncoding::Utf16Be);
}

TEST(Encoding, zerosInEveryOtherPlaceTellUtf16WithoutAMark) {
    EXPECT_EQ(rw::detectEncoding(utf16("time,voltage", false, false)), TextEncoding::Utf16Le);
    EXPECT_EQ(rw::detectEncoding(utf16("time,voltage", true, false)), TextEncoding::Utf16Be);
    EXPECT_EQ(rw::detectEncoding("time,voltage"), TextEncoding::Utf8);
}

TEST(Encoding, aCodePointBeyondFfffIsASurrogatePair) {
    // RFC 2781 section 2.1 and RFC 3629: U+1D11E is D834 DD1E in UTF-16 and F0 9D 84 9E in UTF-8.
    EXPECT_EQ(rw::utf8FromUtf16("\xD8\x34\xDD\x1E", true), "\xF0\x9D\x84\x9E");
    EXPECT_EQ(rw::utf8FromUtf16("\x34\xD8\x1E\xDD", false), "\xF0\x9D\x84\x9E");
}

TEST(Encoding, halvesOfPairsBecomeTheReplacementCharacter) {
    // Unicode 15, chapter 3.9: an unpaired surrogate is replaced by U+FFFD.
    EXPECT_EQ(rw::utf8FromUtf16(std::string("\xD8\x34\0A", 4), true), "\xEF\xBF\xBD"
                                                                      "A");
    EXPECT_EQ(rw::utf8FromUtf16(std::string("\0A\0", 3), true), "A");
}

TEST(Encoding, latin1IsTheFirst256CodePoints) {
    // ISO 8859-1: B0 is the degree sign, U+00B0, in UTF-8 C2 B0 (RFC 3629).
    EXPECT_EQ(rw::utf8FromLatin1("\xB0"
                                 "C"),
              "\xC2\xB0"
              "C");
}

TEST(Encoding, wellFormedBytesAreThoseOfUnicodesTable) {
    // Unicode 15, table 3-7: overlong forms, surrogates and bytes beyond F4 8F are ill-formed.
    EXPECT_EQ(rw::tallyUtf8("\xC2\xB0\xE2\x82\xAC\xF0\x9D\x84\x9E").characters, 3U);
    EXPECT_EQ(rw::tallyUtf8("\xC2\xB0\xE2\x82\xAC").wrongBytes, 0U);
    EXPECT_GT(rw::tallyUtf8("\xC0\x80").wrongBytes, 0U);
    EXPECT_GT(rw::tallyUtf8("\xED\xA0\x80").wrongBytes, 0U);
    EXPECT_GT(rw::tallyUtf8("\xF4\x90\x80\x80").wrongBytes, 0U);
    EXPECT_EQ(rw::tallyUtf8("abc\xE2\x82").wrongBytes, 0U) << "cut off in the middle of a character";
}

struct EncodedLog {
    std::string name, bytes, encoding;
};

class EncodedLogs : public testing::TestWithParam<EncodedLog> {};

TEST_P(EncodedLogs, readAlike) {
    const rw::Log log = read(GetParam().bytes);
    EXPECT_EQ(log.report.encoding, GetParam().encoding);
    ASSERT_EQ(log.rows(), 20U);
    EXPECT_EQ(log.report.refusedCount, 0U);
    EXPECT_EQ(log.report.columns[1].unit, "\xC2\xB0"
                                          "C");
    EXPECT_DOUBLE_EQ(log[rw::Quantity::MotorTemperature].values[1], 16.7 + 273.15);
}

std::string celsiusLog(const std::string& degree) {
    return plainLog({.header = "time [s],motor temp [" + degree + "C],current [A]"});
}

INSTANTIATE_TEST_SUITE_P(
    All, EncodedLogs,
    testing::Values(EncodedLog{"Utf8", celsiusLog("\xC2\xB0"), "UTF-8"},
                    EncodedLog{"Utf8Bom", "\xEF\xBB\xBF" + celsiusLog("\xC2\xB0"), "UTF-8 with BOM"},
                    EncodedLog{"Latin1", celsiusLog("\xB0"), "Latin-1"},
                    EncodedLog{"Utf16Le", utf16(celsiusLog("\xB0"), false, true), "UTF-16LE"},
                    EncodedLog{"Utf16Be", utf16(celsiusLog("\xB0"), true, true), "UTF-16BE"},
                    EncodedLog{"Utf16LeNoMark", utf16(celsiusLog("\xB0"), false, false), "UTF-16LE"},
                    EncodedLog{"Utf16BeNoMark", utf16(celsiusLog("\xB0"), true, false), "UTF-16BE"}),
    [](const auto& row) { return row.param.name; });

TEST(Encoding, canBeOverruled) {
    rw::ImportOptions options;
    options.text.encoding = TextEncoding::Latin1;
    const rw::Log log = read(celsiusLog("\xC2\xB0"), options);
    EXPECT_EQ(log.report.encoding, "Latin-1");
    EXPECT_EQ(log.report.columns[1].name, "motor temp [\xC3\x82\xC2\xB0"
                                          "C]");
}

} // namespace
