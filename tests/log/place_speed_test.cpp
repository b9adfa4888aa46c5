// Speed from columns of latitude and longitude.
#include "core/log/log.h"

#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <functional>
#include <numbers>

namespace {

using namespace rw::test;
using rw::Quantity;

// WGS84, NIMA TR8350.2, table 3.1: semi-major axis. The equator is a circle of this radius, and a geodesic.
constexpr double equatorRadius_m = 6'378'137.0;
constexpr double degrees = 180.0 / std::numbers::pi;

struct Drive {
    std::function<double(double)> east; // m along the equator at a time, s
    double rowStep = 0.02, fixStep = 0.1, duration = 20.0;
    std::string head = "time,lat,lon,voltage", tail = ",12.0";
    int decimals = 9;
};

std::string driven(const Drive& drive) {
    std::string text = drive.head + "\n";
    for (int i = 0; i * drive.rowStep < drive.duration; ++i) {
        const double t = i * drive.rowStep;
        const double fixTime = std::floor(t / drive.fixStep + 1e-9) * drive.fixStep;
        char row[96];
        std::snprintf(row, sizeof row, "%.2f,0.0,%.*f", t, drive.decimals,
                      30.0 + drive.east(fixTime) / equatorRadius_m * degrees);
        text += row + drive.tail + "\n";
    }
    return text;
}

TEST(PlaceSpeed, isTheArcOfTheEquatorOverTime) {
    constexpr double speed = 40.0;
    const rw::Log log = read(driven({.east = [](double t) { return speed * t; }}));
    const rw::Channel& channel = log[Quantity::Speed];
    ASSERT_TRUE(channel.present());
    EXPECT_EQ(channel.column, -1);
    EXPECT_NEAR(channel.interval_s, 0.1, 1e-9);
    // 1e-9 deg is 0.11 mm, over 0.1 s at the ends.
    for (const double v : channel.values)
        ASSERT_NEAR(v, speed, 0.002);
    EXPECT_TRUE(notesHold(log, "worked out from latitude and longitude"));
}

// x = ½ a t²: the mean over the two intervals around a fix is the speed at the fix, exactly.
TEST(PlaceSpeed, ofASteadyAccelerationIsExactAtTheFix) {
    constexpr double a = 5.0;
    const rw::Log log = read(driven({.east = [](double t) { return 0.5 * a * t * t; }}));
    const std::vector<double>& speed = log[Quantity::Speed].values;
    for (std::size_t row = 5; row + 10 < speed.size(); row += 5)
        ASSERT_NEAR(speed[row], a * log.time[row], 0.002) << log.time[row];
    EXPECT_NEAR(speed[7], speed[5], 0.0) << "held between fixes";
}

TEST(PlaceSpeed, isZeroAtStandstill) {
    const rw::Log log = read(driven({.east = [](double t) { return 30.0 * std::min(t, 8.0); }}));
    const std::vector<double>& speed = log[Quantity::Speed].values;
    EXPECT_NEAR(speed[350], 30.0, 0.002); // 7 s
    for (std::size_t row = 430; row < speed.size(); ++row)
        ASSERT_EQ(speed[row], 0.0);
}

TEST(PlaceSpeed, doesNotJumpFromNoFixToTheFirst) {
    std::string text = driven({.east = [](double t) { return 10.0 * t; }, .duration = 5.0});
    const std::string early = "time,lat,lon,voltage\n";
    std::string blank = early;
    for (int i = -100; i < 0; ++i)
        blank += std::to_string(0.02 * i) + ",0,0,12.0\n";
    const rw::Log log = read(blank + text.substr(early.size()));
    const std::vector<double>& speed = log[Quantity::Speed].values;
    EXPECT_TRUE(std::isnan(speed[50]));
    for (std::size_t row = 100; row < speed.size(); ++row)
        ASSERT_NEAR(speed[row], 10.0, 0.002);
}

TEST(PlaceSpeed, doesNotCrossASession) {
    const std::string here = driven({.east = [](double t) { return 10.0 * t; }, .duration = 5.0});
    const std::string there = driven({.east = [](double t) { return 2000.0 - 10.0 * t; }, .duration = 5.0});
    const rw::Log log = read(here + there);
    ASSERT_EQ(log.marks.size(), 1U);
    for (const double v : log[Quantity::Speed].values)
        ASSERT_NEAR(v, 10.0, 0.002);
}

TEST(PlaceSpeed, leavesAToldSpeedAlone) {
    Drive drive{.east = [](double t) { return 40.0 * t; }};
    drive.head = "time,lat,lon,speed (m/s)";
    drive.tail = ",39.5";
    const rw::Log log = read(driven(drive));
    EXPECT_EQ(log[Quantity::Speed].column, 3);
    EXPECT_EQ(log[Quantity::Speed].values[100], 39.5);
    EXPECT_FALSE(notesHold(log, "worked out from latitude"));
}

TEST(PlaceSpeed, isNoneWherePlacesNeverChange) {
    const rw::Log log = read(driven({.east = [](double) { return 5.0; }}));
    EXPECT_FALSE(log[Quantity::Speed].present());
}

TEST(PlaceSpeed, saysHowRoughItIs) {
    Drive drive{.east = [](double t) { return t * t; }}; // from rest: neighbouring steps of the grid are seen
    drive.decimals = 5;                                  // 1.1 m
    EXPECT_TRUE(notesHold(read(driven(drive)), "Places are written in steps of 1.1 m"));
}

} // namespace
