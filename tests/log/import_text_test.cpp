// Separators, decimal marks, thousands marks, headers, units rows, preambles: each text says the same log.
#include "core/log/import.h"

#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace {

using namespace rw::test;
using rw::Quantity;

struct Spelling {
    std::string name;
    PlainLog form;
    std::string separator, decimal;
};

class Spellings : public testing::TestWithParam<Spelling> {};

TEST_P(Spellings, readAlike) {
    const rw::Log log = read(plainLog(GetParam().form));
    const rw::Log plain = read(plainLog());
    EXPECT_EQ(log.report.separator, GetParam().separator);
    EXPECT_EQ(log.report.decimal, GetParam().decimal);
    EXPECT_EQ(log.time, plain.time);
    EXPECT_EQ(log[Quantity::PackVoltage].values, plain[Quantity::PackVoltage].values);
    EXPECT_EQ(log[Quantity::PackCurrent].values, plain[Quantity::PackCurrent].values);
    EXPECT_EQ(log.report.refusedCount, 0U);
    EXPECT_GE(log.report.separatorConfidence, 0.5);
}

INSTANTIATE_TEST_SUITE_P(
    All, Spellings,
    testing::Values(
        Spelling{"Comma", {}, ",", "."},
        Spelling{"Semicolon", {.header = "time;voltage;current", .separator = ";"}, ";", "."},
        Spelling{"SemicolonDecimalComma",
                 {.header = "time;voltage;current", .separator = ";", .decimalComma = true},
                 ";",
                 ","},
        Spelling{"Tab", {.header = "time\tvoltage\tcurrent", .separator = "\t"}, "\t", "."},
        Spelling{"TabDecimalComma",
                 {.header = "time\tvoltage\tcurrent", .separator = "\t", .decimalComma = true},
                 "\t",
                 ","},
        Spelling{"Blanks", {.header = "time voltage current", .separator = " "}, " ", "."},
        Spelling{"WideBlanks", {.header = "Time (s)   Pack Voltage (V)  Current", .separator = "    "}, " ", "."},
        Spelling{
            "WideHeaderNarrowRows", {.header = "Time (s)   Pack Voltage (V)  Current", .separator = " "}, " ", "."},
        Spelling{"BlanksDecimalComma",
                 {.header = "time voltage current", .separator = "  ", .decimalComma = true},
                 " ",
                 ","},
        Spelling{"CrLf", {.lineEnd = "\r\n"}, ",", "."}, Spelling{"Cr", {.lineEnd = "\r"}, ",", "."},
        Spelling{"CommaAndBlank", {.header = "time, voltage, current", .separator = ", "}, ",", "."},
        Spelling{"Bracketed", {.header = "Time [s],Pack voltage [V],Pack current [A]"}, ",", "."},
        Spelling{"EmptyColumnAtTheEnd", {.header = "time,voltage,current,"}, ",", "."}),
    [](const auto& row) { return row.param.name; });

TEST(ImportText, quotedDecimalCommasBetweenCommas) {
    std::string text = "\"time\",\"voltage\"\r\n";
    for (int i = 0; i < 10; ++i)
        text += "\"0," + std::to_string(i) + "\",\"16,8\"\r\n";
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.decimal, ",");
    EXPECT_EQ(log.report.separator, ",");
    EXPECT_DOUBLE_EQ(log.time[9], 0.9);
    EXPECT_DOUBLE_EQ(log[Quantity::PackVoltage].values[0], 16.8);
}

TEST(ImportText, commasThatSeparateAndMarkDecimalsAreRefused) {
    const std::string said = complaint(plainLog({.decimalComma = true}));
    EXPECT_NE(said.find("log.csv:2: has commas both between the columns and as decimal marks"), std::string::npos)
        << said;
}

TEST(ImportText, aPointGroupsThousandsWhereCommasMarkDecimals) {
    std::string text = "time;voltage;rpm\n";
    for (int i = 0; i < 12; ++i)
        text += "0," + std::to_string(i + 10) + ";16,8;" + (i < 3 ? "999\n" : "12.34" + std::to_string(i % 10) + "\n");
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.thousands, ".");
    EXPECT_NEAR(log[Quantity::MotorSpeed].values[5], 12345.0 * 2.0 * std::numbers::pi / 60.0, 1e-9);
}

TEST(ImportText, aCommaGroupsThousandsWherePointsMarkDecimals) {
    std::string text = "time;voltage;rpm\n";
    for (int i = 0; i < 12; ++i)
        text += "0." + std::to_string(i + 10) + ";16.8;1,234,56" + std::to_string(i % 10) + "\n";
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.decimal, ".");
    EXPECT_EQ(log.report.thousands, ",");
    EXPECT_NEAR(log[Quantity::MotorSpeed].values[0], 1234560.0 * 2.0 * std::numbers::pi / 60.0, 1e-6);
}

TEST(ImportText, whereBothReadingsFitTheCloserRowsDecide) {
    // 997, 998, 999, 1.000, 1.001: read as thousands the rows lie close; the confidence is 0.6.
    std::string grouped = "time;voltage;rpm\n";
    for (int i = 0; i < 40; ++i) {
        const int rpm = 980 + i;
        char row[64];
        if (rpm >= 1000)
            std::snprintf(row, sizeof row, "%d;16;%d.%03d\n", i, rpm / 1000, rpm % 1000);
        else
            std::snprintf(row, sizeof row, "%d;16;%d\n", i, rpm);
        grouped += row;
    }
    const rw::Log thousands = read(grouped);
    EXPECT_EQ(thousands.report.decimal, ",");
    EXPECT_DOUBLE_EQ(thousands.report.decimalConfidence, 0.6);
    EXPECT_NEAR(thousands[Quantity::MotorSpeed].values[30], 1010.0 * 2.0 * std::numbers::pi / 60.0, 1e-9);
    EXPECT_TRUE(notesHold(thousands, "decimal mark"));
    EXPECT_DOUBLE_EQ(column(thousands, "rpm").confidence, 0.6);
    // 16.801, 16.802 … and nothing else: both readings lie alike, and a decimal mark is the usual thing.
    std::string decimals = "time;voltage;current\n";
    for (int i = 0; i < 40; ++i)
        decimals += std::to_string(i) + ";16.8" + std::to_string(10 + i) + ";5\n";
    EXPECT_NEAR(read(decimals)[Quantity::PackVoltage].values[0], 16.810, 1e-12);
}

TEST(ImportText, aColumnMayMarkDecimalsUnlikeTheRest) {
    std::string text = "time;voltage;current\n";
    for (int i = 0; i < 12; ++i)
        text +=
            "0." + std::to_string(i + 10) + ";16,8" + std::to_string(i % 10) + ";1,5" + std::to_string(i % 10) + "\n";
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.decimal, ",");
    EXPECT_NEAR(log.time[1], 0.11, 1e-12);
    EXPECT_NEAR(log[Quantity::PackVoltage].values[0], 16.80, 1e-12);
    EXPECT_TRUE(notesHold(log, "\"time\" writes decimals"));
}

TEST(ImportText, preambleUnitsRowCommentsAndEmptyLinesAreAccountedFor) {
    const std::string text =
        lines({"Invented logger, voltage and current", "", "# made up", "time,voltage,motor temp", "ms,V,°F",
               "0,16.8,32", "100,16.7,212", "// pause", "", "200,16.6,50", ",,", "300,16.6,50", "400,16.5,50"});
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.headerLine, 4U);
    EXPECT_EQ(log.report.headerLines, 2U) << "header and units row";
    EXPECT_EQ(log.report.commentLines, 3U) << "lines before the header too";
    EXPECT_EQ(log.report.emptyLines, 3U);
    EXPECT_EQ(log.report.rows, 5U);
    EXPECT_EQ(log.report.rows + log.report.headerLines + log.report.commentLines + log.report.emptyLines +
                  log.report.refusedCount,
              13U);
    EXPECT_EQ(log.report.columns[1].unit, "V");
    EXPECT_NEAR(log[Quantity::MotorTemperature].values[1], 373.15, 1e-9);
    EXPECT_DOUBLE_EQ(log.time[1], 0.1);
    EXPECT_EQ(log.line, (std::vector<std::uint32_t>{6, 7, 10, 12, 13}));
}

TEST(ImportText, theFirstHeaderWinsThoughALaterOneKnowsMore) {
    const std::string text = lines(
        {"time,voltage", "0,16", "1,16", "2,15", "time,voltage,current,rpm", "0,16,5,100", "1,16,5,100", "2,16,5,100"});
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.headerLine, 1U);
    EXPECT_EQ(log.rows(), 6U);
    ASSERT_EQ(log.marks.size(), 1U);
    EXPECT_EQ(log.marks[0].kind, rw::RowMark::Kind::ColumnsChanged);
    EXPECT_EQ(log.marks[0].row, 3U);
    EXPECT_TRUE(std::isnan(log[Quantity::PackCurrent].values[2]));
    EXPECT_EQ(log[Quantity::PackCurrent].values[3], 5.0);
    EXPECT_EQ(log.report.headerLines, 2U);
}

TEST(ImportText, changedColumnsMayChangePlacesAndUnits) {
    const rw::Log log = read(lines({"time [ms],voltage [mV]", "0,16000", "1000,16000", "2000,15000",
                                    "voltage [V],time [s]", "16,0", "15,1", "14,2"}));
    EXPECT_EQ(log[Quantity::PackVoltage].values, (std::vector<double>{16, 16, 15, 16, 15, 14}));
    EXPECT_EQ(log.time, (std::vector<double>{0, 1, 2, 0, 1, 2}));
}

TEST(ImportText, repeatedHeadersAreMarks) {
    const rw::Log log = read(
        lines({"time,voltage", "0,16", "1,16", "2,15", "time,voltage", "0,16", " time , voltage ", "1,16", "2,16"}));
    ASSERT_EQ(log.marks.size(), 2U);
    EXPECT_EQ(log.marks[0].kind, rw::RowMark::Kind::HeaderRepeated);
    EXPECT_EQ(log.marks[0].row, 3U);
    EXPECT_EQ(log.marks[1].row, 4U);
    EXPECT_EQ(log.report.headerLines, 3U);
    EXPECT_EQ(log.report.refusedCount, 0U);
}

TEST(ImportText, filesPutTogetherKeepTheirByteOrderMarks) {
    const std::string one = "\xEF\xBB\xBF" + lines({"time,voltage", "0,16", "1,16", "2,15"});
    const rw::Log log = read(one + one);
    EXPECT_EQ(log.rows(), 6U);
    EXPECT_EQ(log.report.headerLines, 2U);
    EXPECT_EQ(log.report.refusedCount, 0U);
}

TEST(ImportText, aHeaderBeforeTheFirstRowIsNoMark) {
    const rw::Log log =
        read(lines({"time,voltage", "x,16", "time,voltage,current", "0,16,5", "1,16,5", "2,16,5", "3,16,5", "4,16,5"}));
    EXPECT_EQ(log.rows(), 5U);
    EXPECT_TRUE(log.marks.empty());
    EXPECT_EQ(log[Quantity::PackCurrent].values[0], 5.0);
}

TEST(ImportText, aHeaderAtTheVeryEndIsNoMark) {
    const rw::Log log = read(plainLog() + "time,voltage,current\n");
    EXPECT_TRUE(log.marks.empty());
    EXPECT_EQ(log.report.headerLines, 2U);
}

TEST(ImportText, repeatedUnitsRowsAreHeaderLines) {
    const rw::Log log =
        read(lines({"time,voltage", "s,V", "0,16", "1,16", "2,15", "time,voltage", "s,V", "0,16", "1,16"}));
    EXPECT_EQ(log.report.headerLines, 4U);
    EXPECT_EQ(log.report.refusedCount, 0U);
}

TEST(ImportText, recordsOverSeveralLinesAreCountedByPhysicalLines) {
    const std::string text = "time,voltage,note\n0,16,\"a\nb\"\n1,16,x\n2,16,\"c\r\nd\"\n3,16,x\n4,16,x\n";
    const rw::Log log = read(text);
    EXPECT_EQ(log.line, (std::vector<std::uint32_t>{2, 4, 5, 7, 8}));
    EXPECT_EQ(log.report.refusedCount, 0U);
}

TEST(ImportText, aStrayQuoteCostsOneCellNotTheRest) {
    std::string text = "time,voltage,current\n";
    for (int i = 0; i < 500; ++i)
        text += std::to_string(i) + (i == 250 ? ",\"16.8,5\n" : ",16.8,5\n");
    const rw::Log log = read(text);
    EXPECT_EQ(log.rows(), 500U);
    EXPECT_EQ(column(log, "voltage").unreadable, 1U);
}

TEST(ImportText, unitsInCellsAreTaken) {
    const rw::Log log = read(lines({"time,voltage,throttle", "0.0 s,16.8 V,0 %", "0.1 s,16.7 V,50 %",
                                    "0.2 s,16.6 V,100 %", "0.3 s,16.5 V,100 %", "0.4 s,16.4 V,0 %"}));
    EXPECT_EQ(column(log, "throttle").unit, "%");
    EXPECT_DOUBLE_EQ(log[Quantity::Throttle].values[1], 0.5);
    EXPECT_DOUBLE_EQ(log[Quantity::PackVoltage].values[4], 16.4);
}

TEST(ImportText, whatIsToldOverrulesWhatIsDetected) {
    rw::ImportOptions options;
    options.text.separator = ';';
    EXPECT_NE(complaint(plainLog(), options).find("no header"), std::string::npos);
    options = {};
    options.text.decimal = ',';
    const rw::Log log =
        read("time;voltage;rpm\n0;16,8;1.234\n1;16,7;1.234\n2;16,6;1.234\n3;16,5;1.234\n4;16,4;1.234\n", options);
    EXPECT_NEAR(log[Quantity::MotorSpeed].values[0], 1234.0 * 2.0 * std::numbers::pi / 60.0, 1e-9);
}

} // namespace
