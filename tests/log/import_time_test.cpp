#include "core/log/import.h"

#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

using namespace rw::test;
using rw::RowMark;

// A log with the stamps given and a voltage.
rw::Log stamped(const std::vector<std::string>& stamps, const std::string& header = "time",
                const rw::ImportOptions& options = {}) {
    std::string text = header + ",voltage\n";
    for (std::size_t i = 0; i < stamps.size(); ++i)
        text += stamps[i] + "," + std::to_string(15 + i % 3) + "\n";
    return read(text, options);
}

void expectTimes(const rw::Log& log, const std::vector<double>& times) {
    ASSERT_EQ(log.time.size(), times.size());
    for (std::size_t i = 0; i < times.size(); ++i)
        EXPECT_NEAR(log.time[i], times[i], 1e-9) << "row " << i;
}

TEST(ImportTime, secondsMillisecondsMicroseconds) {
    const rw::Log seconds = stamped({"0.00", "0.02", "0.04", "0.06", "0.08"});
    EXPECT_EQ(seconds.report.timeForm, "seconds");
    EXPECT_EQ(seconds.report.stampStep_s, 0.02) << "as it is written";
    expectTimes(stamped({"0", "20", "40", "60", "80"}, "time [ms]"), {0.0, 0.02, 0.04, 0.06, 0.08});
    expectTimes(stamped({"0", "20000", "40000", "60000", "80000"}, "time_us"), {0.0, 0.02, 0.04, 0.06, 0.08});
    EXPECT_EQ(stamped({"0", "20", "40", "60", "80"}, "time [ms]").report.timeForm, "milliseconds");
}

TEST(ImportTime, withoutAUnitTheStepsDecide) {
    const rw::Log milli = stamped({"100", "105", "110", "115", "120"});
    EXPECT_EQ(milli.report.timeForm, "milliseconds") << "whole numbers, median step 5";
    EXPECT_DOUBLE_EQ(milli.report.timeConfidence, 0.7);
    EXPECT_DOUBLE_EQ(column(milli, "time").confidence, 0.7);
    EXPECT_TRUE(notesHold(milli, "milliseconds"));
    EXPECT_EQ(stamped({"0", "4", "8", "12", "16"}).report.timeForm, "seconds") << "median step under 5";
    EXPECT_EQ(stamped({"0", "5000", "10000", "15000", "20000"}).report.timeForm, "microseconds") << "median step 5000";
    EXPECT_EQ(stamped({"0.0", "5.0", "10.0", "15.0", "20.0"}).report.timeForm, "seconds") << "not whole numbers";
}

TEST(ImportTime, minutesAndSeconds) {
    const rw::Log log = stamped({"59:58.5", "59:59.0", "59:59.5", "60:00.0", "60:00.5"});
    EXPECT_EQ(log.report.timeForm, "minutes:seconds");
    expectTimes(log, {3598.5, 3599.0, 3599.5, 3600.0, 3600.5});
}

TEST(ImportTime, aClockPassesMidnight) {
    const rw::Log log = stamped({"23:59:59.0", "23:59:59.5", "00:00:00.0", "00:00:00.5", "00:00:01.0"});
    EXPECT_EQ(log.report.timeForm, "clock");
    expectTimes(log, {86399.0, 86399.5, 86400.0, 86400.5, 86401.0});
    EXPECT_TRUE(log.marks.empty());
    // A fall of less than 12 h is no midnight: a session that began again.
    const rw::Log back = stamped({"12:00:00", "12:00:01", "12:00:02", "11:00:00", "11:00:01"});
    ASSERT_EQ(back.marks.size(), 1U);
    EXPECT_EQ(back.marks[0].row, 3U);
}

TEST(ImportTime, iso8601) {
    // RFC 3339 section 5.8: this instant is 482196050.52 s after 1970.
    const rw::Log log = stamped({"1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.62Z", "1985-04-12T23:20:50.72Z",
                                 "1985-04-12T23:20:50.82Z", "1985-04-12T23:20:50.92Z"});
    EXPECT_EQ(log.report.timeForm, "ISO 8601");
    EXPECT_NEAR(log.time[0], 482196050.52, 1e-6);
    EXPECT_NEAR(log.time[4] - log.time[0], 0.4, 1e-6);
}

TEST(ImportTime, aRateCountsRowsAndOverrulesTheColumn) {
    rw::ImportOptions options;
    options.rate_Hz = 50.0;
    const rw::Log log = stamped({"9", "9", "9", "9", "9"}, "time", options);
    EXPECT_EQ(log.report.timeForm, "rate");
    expectTimes(log, {0.0, 0.02, 0.04, 0.06, 0.08});
    EXPECT_FALSE(column(log, "time").quantity);
    const std::string bare = "voltage,current\n16,1\n16,1\n16,2\n16,1\n16,1\n";
    EXPECT_NE(complaint(bare).find("log.csv:1: names no time column"), std::string::npos);
    EXPECT_EQ(read(bare, options).rows(), 5U);
    options.rate_Hz = 0.0;
    EXPECT_NE(complaint(bare, options).find("rate"), std::string::npos);
}

TEST(ImportTime, countersThatWrapAreUndoneAndSaid) {
    // 16 bits of milliseconds.
    const rw::Log narrow = stamped({"65400", "65450", "65500", "14", "64", "114"}, "time [ms]");
    expectTimes(narrow, {65.4, 65.45, 65.5, 65.55, 65.6, 65.65});
    EXPECT_TRUE(narrow.marks.empty());
    EXPECT_TRUE(notesHold(narrow, "wrapped"));
    // 32 bits of microseconds: 2^32 = 4294967296.
    const rw::Log wide = stamped({"4294947296", "4294957296", "0", "10000", "20000"}, "time [us]");
    EXPECT_NEAR(wide.time[2], 4294.967296, 1e-9);
    EXPECT_NEAR(wide.time[4], 4294.987296, 1e-9);
    // Nearly a wrap, more than one median step away: a new session.
    EXPECT_EQ(stamped({"65.40", "65.45", "65.50", "0.30", "0.35"}).marks.size(), 1U);
}

TEST(ImportTime, equalStampsAreSpreadEvenly) {
    const rw::Log log = stamped({"0.0", "0.0", "0.0", "0.0", "0.1", "0.1", "0.2", "0.2"});
    expectTimes(log, {0.0, 0.025, 0.05, 0.075, 0.1, 0.15, 0.2, 0.25});
    EXPECT_NEAR(log.report.stampStep_s, 0.1, 1e-9);
    EXPECT_TRUE(notesHold(log, "0.1 s"));
}

TEST(ImportTime, equalStampsBeforeAPauseAreSpreadOverOneStepOfTheClock) {
    const rw::Log log = stamped({"0.0", "0.0", "0.1", "0.1", "0.2", "0.2", "60.0", "60.0", "60.1", "60.1"});
    EXPECT_NEAR(log.time[5], 0.25, 1e-9);
    EXPECT_NEAR(log.time[6], 60.0, 1e-9);
}

TEST(ImportTime, aStepBackOfUpToASecondIsRefusedAMoreOneIsAMark) {
    const rw::Log log = stamped({"5.0", "5.1", "4.6", "5.2", "5.3", "1.0", "1.1"});
    expectTimes(log, {5.0, 5.1, 5.2, 5.3, 1.0, 1.1});
    ASSERT_EQ(log.report.refusedCount, 1U);
    EXPECT_EQ(log.report.refused[0].line, 4U);
    EXPECT_EQ(log.report.refused[0].why, "the time steps back by 0.5 s");
    ASSERT_EQ(log.marks.size(), 1U);
    EXPECT_EQ(log.marks[0].kind, RowMark::Kind::TimeSteppedBack);
    EXPECT_EQ(log.marks[0].row, 4U) << "counted in accepted rows";
}

TEST(ImportTime, belowARepeatedHeaderTimeMayRestartByAnyAmount) {
    const rw::Log log =
        read(lines({"time,voltage", "0.0,16", "0.1,16", "0.2,16", "time,voltage", "0.0,16", "0.1,16", "0.2,16"}));
    EXPECT_EQ(log.report.refusedCount, 0U);
    EXPECT_EQ(log.rows(), 6U);
    ASSERT_EQ(log.marks.size(), 1U);
    EXPECT_EQ(log.marks[0].kind, RowMark::Kind::HeaderRepeated);
}

} // namespace
