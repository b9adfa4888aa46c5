// Which rows are kept, which refused and why; many rows, many threads.
#include "core/log/import.h"

#include "core/error.h"
#include "core/stopped.h"
#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stop_token>

namespace {

using namespace rw::test;
using rw::Quantity;

TEST(ImportRows, areRefusedForTheReasonsStated) {
    const rw::Log log = read(
        lines({"time,voltage,current,rpm,note", "0,16,5,100,x", "1,16,5,100,x", "oops,16,5,100,x", "2,16,5,100,x,extra",
               "3,16", "4,nan,--,,x", "5,16,5,100,x,,", "6,16,5", "7,bad,5,100,x", "8,16,5,100,x", "9,16,5,100,x"}));
    const std::vector<std::pair<std::size_t, std::string>> wanted{{4, "the time cannot be read"},
                                                                  {5, "more fields (6) than the header (5)"},
                                                                  {6, "fewer than half of the header's 5 fields"},
                                                                  {7, "no known column besides the time can be read"}};
    ASSERT_EQ(log.report.refused.size(), wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        EXPECT_EQ(log.report.refused[i].line, wanted[i].first);
        EXPECT_EQ(log.report.refused[i].why, wanted[i].second);
    }
    EXPECT_EQ(log.line, (std::vector<std::uint32_t>{2, 3, 8, 9, 10, 11, 12}))
        << "empty fields at the end and short rows are kept";
    EXPECT_EQ(column(log, "voltage").unreadable, 1U);
    EXPECT_EQ(column(log, "current").unreadable, 0U) << "the refused rows' cells are not counted";
}

TEST(ImportRows, aLastLineWithoutItsEndIsAnInterruptedWrite) {
    const rw::Log log = read(plainLog() + "2.000,16.");
    EXPECT_EQ(log.rows(), 20U);
    ASSERT_EQ(log.report.refusedCount, 1U);
    EXPECT_EQ(log.report.refused[0].line, 22U);
    EXPECT_NE(log.report.refused[0].why.find("no line end"), std::string::npos);
}

TEST(ImportRows, nulBytesUpToTheEndAreOneRefusedLine) {
    for (const std::string& tail :
         {std::string("2.000,16.") + std::string(5000, '\0'), std::string(1, '\0'), std::string(300'000, '\0')}) {
        const rw::Log log = read(plainLog() + tail);
        EXPECT_EQ(log.rows(), 20U);
        ASSERT_EQ(log.report.refusedCount, 1U);
        EXPECT_EQ(log.report.refused[0].line, 22U);
        EXPECT_NE(log.report.refused[0].why.find("NUL"), std::string::npos);
    }
}

TEST(ImportRows, onlyTheFirstHundredRefusedAreListedAllAreCounted) {
    std::string text = "time,voltage\n";
    for (int i = 0; i < 400; ++i)
        text += std::to_string(i) + ",16\n" + (i < 250 ? "x,16\n" : "");
    const rw::Log log = read(text);
    EXPECT_EQ(log.report.refused.size(), 100U);
    EXPECT_EQ(log.report.refusedCount, 250U);
    EXPECT_EQ(log.report.refused[99].line, 201U);
}

TEST(ImportRows, filesWithTooLittleAreRefused) {
    EXPECT_NE(complaint("time,voltage\n").find("0 rows"), std::string::npos);
    EXPECT_NE(complaint("time,voltage\n1,16\n").find("1 row "), std::string::npos);
    EXPECT_NE(complaint("time,voltage\n1,16\n2,16\n3,16\n4,16\n").find("4 rows"), std::string::npos);
    EXPECT_EQ(read("time,voltage\n1,16\n2,16\n3,16\n4,16\n5,16\n").rows(), 5U);
    std::string half = "time,voltage\n";
    for (int i = 0; i < 10; ++i)
        half += std::to_string(i) + ",16\nx,16\n";
    EXPECT_EQ(read(half).rows(), 10U) << "half is not more than half";
    EXPECT_NE(complaint(half + "x,16\n").find("line 3: the time cannot be read"), std::string::npos);
}

// A log of many chunks, its truth known from the closed form of each cell.
TEST(ImportRows, areTheSameWhateverTheNumberOfThreads) {
    std::string text = "time,voltage,current,session,temp motor,note\n";
    std::vector<double> volts;
    std::vector<std::uint32_t> physical;
    std::size_t refused = 0;
    std::uint32_t line = 1;
    for (int i = 0; i < 60'000; ++i) {
        char row[160];
        ++line;
        if (i % 997 == 5) {
            text += "broken,row\n";
            ++refused;
            ++line;
        }
        if (i % 1499 == 7) {
            text += "# comment\n";
            ++line;
        }
        std::snprintf(row, sizeof row, "%.2f,%.3f,%d,pack %d,%.1f,%s\n", i * 0.02, 16.0 + i % 1000 * 1e-3, i % 50,
                      i / 20'000, 30.0 + i % 7, i % 1013 == 0 ? "\"two\nlines\"" : "x");
        physical.push_back(line);
        if (i % 1013 == 0) ++line;
        text += row;
        volts.push_back(std::round((16.0 + i % 1000 * 1e-3) * 1e3) / 1e3);
    }
    for (const unsigned threads : {1U, 2U, 5U}) {
        rw::ImportOptions options;
        options.threads = threads;
        const rw::Log log = read(text, options);
        ASSERT_EQ(log.rows(), 60'000U);
        EXPECT_EQ(log.report.refusedCount, refused);
        EXPECT_EQ(log.line, physical);
        EXPECT_EQ(log[Quantity::PackVoltage].values, volts);
        EXPECT_EQ(log[Quantity::SessionMark].values[19'999], 0.0);
        EXPECT_EQ(log[Quantity::SessionMark].values[20'000], 1.0);
        EXPECT_EQ(log[Quantity::SessionMark].values[59'999], 2.0);
        EXPECT_NEAR(log.time[59'999], 59'999 * 0.02, 1e-9);
    }
}

TEST(ImportRows, refusedAndEmptyLinesLeaveNoHoles) {
    std::string text = "time,voltage\r\n";
    for (int i = 0; i < 40'000; ++i)
        text += std::to_string(i) + ",16." + std::to_string(i % 10) + "\r\n\r\n";
    const rw::Log log = read(text);
    ASSERT_EQ(log.rows(), 40'000U);
    EXPECT_EQ(log.report.emptyLines, 40'000U);
    for (std::size_t i = 0; i < log.rows(); i += 997) {
        EXPECT_EQ(log.time[i], static_cast<double>(i));
        EXPECT_EQ(log.line[i], 2 * i + 2);
    }
}

TEST(ImportRows, canBeStoppedAndTellProgress) {
    std::string text = plainLog({.rows = 50'000});
    std::vector<double> shares;
    (void)rw::importLog(text, "log.csv", {}, {}, [&](double share) { shares.push_back(share); });
    ASSERT_FALSE(shares.empty());
    EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
    EXPECT_EQ(shares.back(), 1.0);
    std::stop_source stop;
    stop.request_stop();
    EXPECT_THROW((void)rw::importLog(text, "log.csv", {}, stop.get_token()), rw::Stopped);
}

} // namespace
