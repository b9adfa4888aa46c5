#include "app/batch/text_output.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace rw::batch {

namespace {

TEST(TextOutput, NumbersOfPeople) {
    EXPECT_EQ(fixed(12.345, 2), "12.35");
    EXPECT_EQ(fixed(-0.001, 2), "0.00");
    EXPECT_EQ(fixed(std::nullopt, 2), "-");
    EXPECT_EQ(fixed(std::numeric_limits<double>::quiet_NaN(), 2), "-");
    EXPECT_EQ(fixed(std::numeric_limits<double>::max(), 0).size(), 309U);
}

TEST(TextOutput, WidthCountsCharactersNotBytes) {
    EXPECT_EQ(displayWidth("°C"), 2U);
    EXPECT_EQ(displayWidth("kg/m³"), 5U);
    EXPECT_EQ(displayWidth(Ink(true).bad("abc")), 3U);
}

TEST(TextOutput, ColumnsAlign) {
    Table table{"<what", "value", "<"};
    table.row({"air", "1.2", "kg/m³"}).row({"temperature", "20.0", "°C"});
    EXPECT_EQ(table.text(Ink(false)), "  what         value\n"
                                      "  air            1.2  kg/m³\n"
                                      "  temperature   20.0  °C\n");
}

TEST(TextOutput, NoColourWhereItIsOff) {
    EXPECT_EQ(Ink(false).bad("x"), "x");
    EXPECT_NE(Ink(true).bad("x"), "x");
}

TEST(TextOutput, ControlCharactersAreShownNotSent) {
    EXPECT_EQ(escapeControls("a\nb\tc\x1B\x7F"), "a\\nb\\tc\\x1B\\x7F");
    EXPECT_EQ(escapeControls("\xC2\x9B"), "\\x9B"); // U+009B, a terminal's control sequence introducer
    EXPECT_EQ(escapeControls("Größe °C"), "Größe °C");
    EXPECT_EQ(escapeControls("a\xFF"
                             "b\xC3"),
              "a\\xFFb\\xC3"); // no UTF-8
}

TEST(TextOutput, ParagraphsWrapAtSpaces) { EXPECT_EQ(wrapped("one two three", "  ", 9), "  one two\n  three\n"); }

} // namespace

} // namespace rw::batch
