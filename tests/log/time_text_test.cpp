#include "core/log/time_text.h"

#include <gtest/gtest.h>

namespace {

// RFC 3339 section 5.8, the examples; seconds since 1970 counted from the civil date.
TEST(Iso8601, readsTheExamplesOfRfc3339) {
    EXPECT_NEAR(rw::parseIso8601("1985-04-12T23:20:50.52Z").value(), 482196050.52, 1e-6);
    EXPECT_EQ(rw::parseIso8601("1996-12-19T16:39:57-08:00").value(), 851042397.0);
    EXPECT_NEAR(rw::parseIso8601("1937-01-01T12:00:27.87+00:20").value(), -1041337172.13, 1e-6);
}

// The same section: leap seconds are valid text; a clock without leap seconds counts them as the next midnight.
TEST(Iso8601, aLeapSecondIsTheNextMidnightNeverAnotherDay) {
    EXPECT_EQ(rw::parseIso8601("1990-12-31T23:59:60Z").value(), 662688000.0);
    EXPECT_EQ(rw::parseIso8601("1990-12-31T15:59:60-08:00").value(), 662688000.0);
}

// ISO 8601-1:2019: basic and extended forms, comma or point before the fraction, seconds may be left out (5.3.1).
TEST(Iso8601, readsBasicExtendedAndReducedForms) {
    const double noon = rw::parseIso8601("2026-05-04T12:00:00Z").value();
    EXPECT_EQ(rw::parseIso8601("20260504T120000Z"), noon);
    EXPECT_EQ(rw::parseIso8601("2026-05-04 12:00:00"), noon);
    EXPECT_EQ(rw::parseIso8601("2026-05-04T12:00"), noon);
    EXPECT_EQ(rw::parseIso8601("2026/05/04 12:00:00"), noon);
    EXPECT_EQ(rw::parseIso8601("2026-05-04T12:00:00,25Z"), noon + 0.25);
    EXPECT_EQ(rw::parseIso8601("2026-05-04T13:00:00+0100"), noon);
    EXPECT_EQ(rw::parseIso8601("2026-05-04T13:00:00+01"), noon);
}

TEST(Iso8601, refusesWhatIsNoDateOrTime) {
    for (const char* text :
         {"", "2026", "2026-02-30T12:00:00Z", "2026-13-01T12:00:00Z", "2026-05-04", "2026-05-04T24:30:00Z",
          "2026-05-04T12:60:00Z", "2026-05-04T12:00:61Z", "2026-05-04T12:00:00.Z", "2026-05-04T12:00:00Zx",
          "2026-05/04T12:00:00Z", "0000-01-01T00:00:00Z"})
        EXPECT_FALSE(rw::parseIso8601(text)) << text;
    // Leap years by the Gregorian rule: 2000 is one, 1900 is none.
    EXPECT_TRUE(rw::parseIso8601("2000-02-29T00:00:00Z"));
    EXPECT_FALSE(rw::parseIso8601("1900-02-29T00:00:00Z"));
}

TEST(Clock, hasThreeParts) {
    EXPECT_EQ(rw::parseClock("01:02:03.5"), 3723.5);
    EXPECT_EQ(rw::parseClock("9:00:00,25"), 32400.25);
    for (const char* text : {"1:02", "01:60:00", "01:00:61", "a:00:00", "01:00:00.", "01:00:00 x"})
        EXPECT_FALSE(rw::parseClock(text)) << text;
}

TEST(MinutesSeconds, hasTwoParts) {
    EXPECT_EQ(rw::parseMinutesSeconds("02:03.25"), 123.25);
    EXPECT_EQ(rw::parseMinutesSeconds("125:00"), 7500.0);
    for (const char* text : {"1:60", "1:2:3", "1:", ":30", "1.5"})
        EXPECT_FALSE(rw::parseMinutesSeconds(text)) << text;
}

} // namespace
