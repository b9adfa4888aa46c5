#include "core/log/number_text.h"

#include <gtest/gtest.h>

#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>

namespace {

using rw::CellKind;
using rw::NumberStyle;

// The C library's strtod rounds correctly (ISO C, annex F): the outside reference.
TEST(PlainNumber, readsTheSameDoubleAsTheStandardLibrary) {
    std::mt19937_64 random(7);
    std::uniform_int_distribution<std::uint64_t> any;
    for (int i = 0; i < 200'000; ++i) {
        const int digits = 1 + static_cast<int>(any(random) % 15),
                  decimals = static_cast<int>(any(random) % 16) % (digits + 1);
        std::string text = std::to_string(any(random) % 1'000'000'000'000'000ULL);
        text.resize(static_cast<std::size_t>(digits), '0');
        if (decimals > 0) text.insert(text.size() - static_cast<std::size_t>(decimals), ".");
        if (any(random) % 2 == 0) text.insert(0, "-");
        text += ',';
        double value = 0.0;
        const char* const behind = rw::plainNumber(text.c_str(), '.', value);
        ASSERT_EQ(behind, text.c_str() + text.size() - 1) << text;
        ASSERT_EQ(value, std::strtod(text.c_str(), nullptr)) << text;
    }
}

TEST(PlainNumber, leavesTheRestToTheCellReader) {
    double value = 0.0;
    for (const char* text : {",", "-,", ".,", "x,", "\"1\",", "1234567890123456,", "nan,"})
        EXPECT_EQ(rw::plainNumber(text, '.', value), nullptr) << text;
    // Only the digits are taken; what stands behind is looked at by the caller.
    const char* const exponent = "1e5,";
    EXPECT_EQ(rw::plainNumber(exponent, '.', value), exponent + 1);
}

struct Case {
    const char* text;
    NumberStyle style;
    CellKind kind;
    double value;
};

TEST(ReadCell, readsNumbersAsPeopleAndProgramsWriteThem) {
    const NumberStyle point, comma{',', '\0', {}}, pointGroups{',', '.', {}}, commaGroups{'.', ',', {}},
        volts{'.', '\0', "V"};
    const Case cases[] = {
        {"16.8", point, CellKind::Value, 16.8},
        {" 16.8\t", point, CellKind::Value, 16.8},
        {"+3", point, CellKind::Value, 3.0},
        {".5", point, CellKind::Value, 0.5},
        {"5.", point, CellKind::Value, 5.0},
        {"1.5e3", point, CellKind::Value, 1500.0},
        {"-1E-2", point, CellKind::Value, -0.01},
        {"16,8", comma, CellKind::Value, 16.8},
        {"12.345", pointGroups, CellKind::Value, 12345.0},
        {"1.234.567,5", pointGroups, CellKind::Value, 1234567.5},
        {"12,345", commaGroups, CellKind::Value, 12345.0},
        {"1,234.5", commaGroups, CellKind::Value, 1234.5},
        {"12 345", point, CellKind::Value, 12345.0},
        {"12'345.5", point, CellKind::Value, 12345.5},
        {"12\xC2\xA0"
         "345",
         point, CellKind::Value, 12345.0},
        {"16.8 V", volts, CellKind::Value, 16.8},
        {"16.8V", volts, CellKind::Value, 16.8},
        {"", point, CellKind::Missing, 0.0},
        {"  ", point, CellKind::Missing, 0.0},
        {"nan", point, CellKind::Missing, 0.0},
        {"NaN", point, CellKind::Missing, 0.0},
        {"--", point, CellKind::Missing, 0.0},
        {"N/A", point, CellKind::Missing, 0.0},
        {"inf", point, CellKind::Unreadable, 0.0},
        {"1e999", point, CellKind::Unreadable, 0.0},
        {"16,8", point, CellKind::Unreadable, 0.0},
        {"12.5", comma, CellKind::Unreadable, 0.0},
        {"1.23.456", pointGroups, CellKind::Unreadable, 0.0},
        {"12.34", pointGroups, CellKind::Unreadable, 0.0},
        {"1 2", point, CellKind::Unreadable, 0.0},
        {"0x10", point, CellKind::Unreadable, 0.0},
        {"abc", point, CellKind::Unreadable, 0.0},
        {"1.2.3", point, CellKind::Unreadable, 0.0},
        {"16.8 A", volts, CellKind::Unreadable, 0.0},
    };
    for (const Case& expected : cases) {
        const rw::Cell cell = rw::readCell(expected.text, expected.style);
        EXPECT_EQ(cell.kind, expected.kind) << expected.text;
        if (expected.kind == CellKind::Value) {
            EXPECT_EQ(cell.value, expected.value) << expected.text;
        }
    }
}

TEST(FitsThousands, wantsGroupsOfThree) {
    for (const char* text : {"1.234", "12.345", "123.456", "1.234.567", "-1.234"})
        EXPECT_TRUE(rw::fitsThousands(text, '.')) << text;
    for (const char* text : {"1234", "0.125", "1.23", "1.2345", "1234.567", ".123", "1.234,5"})
        EXPECT_FALSE(rw::fitsThousands(text, '.')) << text;
}

} // namespace
