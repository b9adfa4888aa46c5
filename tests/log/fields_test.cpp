// RFC 4180, section 2: the rules for records and fields.
#include "core/log/fields.h"

#include <gtest/gtest.h>

namespace {

using rw::FieldFormat;

std::vector<std::string> fieldsOf(std::string_view record, const FieldFormat& format = {}) {
    std::vector<std::string_view> fields;
    rw::splitFields(record, format, fields);
    std::vector<std::string> cells;
    for (const std::string_view field : fields)
        cells.push_back(rw::unquoted(field));
    return cells;
}

using Cells = std::vector<std::string>;

TEST(Fields, aLineBreakInsideQuotesStaysInTheField) {
    // RFC 4180 section 2, rule 6: the example.
    const std::string text = "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx";
    const std::string_view record = rw::recordAt(text, 0, ',');
    EXPECT_EQ(fieldsOf(record), (Cells{"aaa", "b\r\nbb", "ccc"}));
    EXPECT_EQ(fieldsOf(rw::recordAt(text, record.size() + 2, ',')), (Cells{"zzz", "yyy", "xxx"}));
}

TEST(Fields, aDoubledQuoteIsOne) {
    // RFC 4180 section 2, rule 7: the example.
    EXPECT_EQ(fieldsOf("\"aaa\",\"b\"\"bb\",\"ccc\""), (Cells{"aaa", "b\"bb", "ccc"}));
}

TEST(Fields, theLastRecordMayLackItsLineEnd) {
    // RFC 4180 section 2, rule 2.
    EXPECT_EQ(rw::recordAt("aaa,bbb,ccc\r\nzzz,yyy,xxx", 13, ','), "zzz,yyy,xxx");
}

TEST(Fields, separatorsInsideQuotesSeparateNothing) {
    // RFC 4180 section 2, rule 6.
    EXPECT_EQ(fieldsOf("\"0,10\",\"16,81\",5"), (Cells{"0,10", "16,81", "5"}));
}

TEST(Fields, aQuoteThatDoesNotCloseIsAPlainCharacter) {
    EXPECT_EQ(fieldsOf("1,\"oops,2"), (Cells{"1", "\"oops", "2"}));
    EXPECT_EQ(rw::recordAt("1,\"oops,2\n3,4,5\n", 0, ','), "1,\"oops,2");
    EXPECT_EQ(fieldsOf("5\" tyre,2"), (Cells{"5\" tyre", "2"}));
}

TEST(Fields, emptyFieldsCount) {
    EXPECT_EQ(fieldsOf(",,"), (Cells{"", "", ""}));
    EXPECT_EQ(fieldsOf("a;;c", {';', false}), (Cells{"a", "", "c"}));
}

TEST(Fields, blanksSeparateInRuns) {
    EXPECT_EQ(fieldsOf("  0.10   16.8 5", {' ', false}), (Cells{"0.10", "16.8", "5"}));
    EXPECT_EQ(fieldsOf("Time (s)  Pack Voltage   Motor Temp", {' ', true}),
              (Cells{"Time (s)", "Pack Voltage", "Motor Temp"}));
}

} // namespace
