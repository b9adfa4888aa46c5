// Throttle scales and rest, current sign, ripple, electrical revolutions, slow channels, session and event marks.
#include "core/log/import.h"

#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

namespace {

using namespace rw::test;
using rw::Quantity;

// Ten seconds at 20 Hz: rest, a run-up with load from 4 s to 7 s, rest. cell(share of full throttle, row) writes the
// tail.
std::string driven(const std::string& header, const std::function<std::string(double, int)>& cell) {
    std::string text = header + "\n";
    for (int i = 0; i < 200; ++i) {
        const double t = 0.05 * i, share = t < 4.0 || t > 7.0 ? 0.0 : std::min(1.0, t - 4.0);
        char stamp[16];
        std::snprintf(stamp, sizeof stamp, "%.2f,", t);
        text += stamp + cell(share, i) + "\n";
    }
    return text;
}

std::string number(double value, int decimals = 3) {
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
}

struct ThrottleScale {
    std::string name, header;
    std::function<std::string(double)> cell;
};

class ThrottleScales : public testing::TestWithParam<ThrottleScale> {};

TEST_P(ThrottleScales, readAsFractionsOfFull) {
    const rw::Log log = read(driven("time,current," + GetParam().header, [](double share, int) {
        return number(80.0 * share + 0.3, 1) + "," + GetParam().cell(share);
    }));
    const std::vector<double>& throttle = log[Quantity::Throttle].values;
    ASSERT_EQ(throttle.size(), 200U);
    EXPECT_NEAR(throttle[10], 0.0, 1e-9);
    EXPECT_NEAR(throttle[90], 0.5, 0.006) << "half-way up, a step of the coarsest scale";
    EXPECT_NEAR(throttle[120], 1.0, 1e-9);
}

INSTANTIATE_TEST_SUITE_P(
    All, ThrottleScales,
    testing::Values(
        ThrottleScale{"Fraction", "throttle", [](double s) { return number(s); }},
        ThrottleScale{"PerCentByRange", "throttle", [](double s) { return number(100.0 * s, 0); }},
        ThrottleScale{"PerCentByUnit", "throttle [%]", [](double s) { return number(100.0 * s, 1); }},
        ThrottleScale{"Microseconds", "throttle", [](double s) { return number(1500.0 + 400.0 * s, 0); }},
        ThrottleScale{"MicrosecondsByUnit", "throttle (us)", [](double s) { return number(1000.0 + 1000.0 * s, 0); }},
        ThrottleScale{"Milliseconds", "throttle (ms)", [](double s) { return number(1.5 + 0.4 * s, 3); }},
        ThrottleScale{"Raw", "throttle", [](double s) { return number(20.0 + 220.0 * s, 0); }},
        ThrottleScale{"Trimmed", "throttle", [](double s) { return number(0.04 + 0.96 * s); }},
        ThrottleScale{"TrimmedBelow", "throttle [%]", [](double s) { return number(-2.0 + 102.0 * s, 1); }}),
    [](const auto& row) { return row.param.name; });

TEST(ImportThrottle, belowRestIsBrake) {
    const rw::Log log = read(driven("time,current,throttle", [](double share, int row) {
        return number(80.0 * share, 1) + "," + (row > 150 && row <= 170 ? "1100" : number(1500.0 + 400.0 * share, 0));
    }));
    EXPECT_EQ(log[Quantity::Throttle].values[160], 0.0);
    EXPECT_NEAR(log[Quantity::Brake].values[160], 1.0, 1e-9);
    EXPECT_EQ(log[Quantity::Brake].values[120], 0.0);
    EXPECT_EQ(log[Quantity::Brake].column, -1);
    EXPECT_TRUE(notesHold(log, "below rest is brake"));
}

TEST(ImportThrottle, aBrakeColumnOfItsOwnIsKept) {
    const rw::Log log = read(driven("time,current,throttle [%],brake [%]", [](double share, int row) {
        return number(80.0 * share, 1) + "," + (row > 150 ? "-40" : number(100.0 * share, 0)) + "," +
               (row > 150 ? "40" : "0");
    }));
    EXPECT_NEAR(log[Quantity::Brake].values[160], 0.4, 1e-12);
    EXPECT_GE(log[Quantity::Brake].column, 0);
}

TEST(ImportThrottle, aTrimOfTwelvePerCentIsNoRest) {
    const rw::Log log = read(driven("time,current,throttle", [](double share, int) {
        return number(80.0 * share, 1) + "," + number(0.13 + 0.87 * share);
    }));
    EXPECT_NEAR(log[Quantity::Throttle].values[10], 0.13, 1e-9);
}

TEST(ImportThrottle, numbersOfNoKnownScaleAreNotUsed) {
    const rw::Log log = read(driven("time,current,throttle", [](double share, int) {
        return number(80.0 * share, 1) + "," + number(4095.0 * share, 0);
    }));
    EXPECT_FALSE(log[Quantity::Throttle].present());
    EXPECT_FALSE(column(log, "throttle").quantity);
    EXPECT_EQ(column(log, "throttle").guess, Quantity::Throttle);
    EXPECT_TRUE(notesHold(log, "\"throttle\" is not used"));
}

TEST(ImportCurrent, thatRisesWithTheVoltageIsTurned) {
    const auto text = [](double sign) {
        return driven("time,voltage,current,throttle", [sign](double share, int) {
            return number(16.8 - 1.5 * share) + "," + number(sign * 80.0 * share + 0.8, 1) + "," + number(share);
        });
    };
    const rw::Log turned = read(text(-1.0));
    EXPECT_NEAR(turned[Quantity::PackCurrent].values[120], 79.2, 1e-9);
    EXPECT_TRUE(notesHold(turned, "sign is turned"));
    const rw::Log straight = read(text(1.0));
    EXPECT_NEAR(straight[Quantity::PackCurrent].values[120], 80.8, 1e-9);
    EXPECT_NEAR(straight[Quantity::PackCurrent].values[0], 0.8, 1e-12) << "the zero offset stays: figures as measured";
    EXPECT_FALSE(notesHold(straight, "sign"));
}

TEST(ImportRipple, effectiveValuesBecomePeakToPeak) {
    const rw::Log log =
        read(driven("time,voltage,ripple [V rms]", [](double, int) { return std::string("16.8,0.100"); }));
    // A sine's peak to peak is 2·√2 = 2.83 times its effective value.
    EXPECT_NEAR(log[Quantity::RippleVoltage].values[0], 0.2 * std::sqrt(2.0), 2e-4);
    EXPECT_TRUE(notesHold(log, "2.83"));
    const rw::Log plain = read(driven("time,voltage,ripple [mV]", [](double, int) { return std::string("16.8,100"); }));
    EXPECT_DOUBLE_EQ(plain[Quantity::RippleVoltage].values[0], 0.1);
}

TEST(ImportMotorSpeed, electricalRevolutionsNeedPolePairs) {
    for (const char* header : {"eRPM", "motor speed [erpm]", "rpm (electrical)"}) {
        const std::string text =
            driven(std::string("time,voltage,") + header, [](double, int) { return std::string("16.8,60000"); });
        const rw::Log without = read(text);
        EXPECT_FALSE(without[Quantity::MotorSpeed].present()) << header;
        EXPECT_FALSE(without.report.columns[2].quantity);
        EXPECT_EQ(without.report.columns[2].guess, Quantity::MotorSpeed);
        EXPECT_TRUE(notesHold(without, "pole pairs"));
        rw::ImportOptions options;
        options.polePairs = 2;
        // 60,000 electrical rpm at two pole pairs are 30,000 rpm = 1000 π rad/s.
        EXPECT_NEAR(read(text, options)[Quantity::MotorSpeed].values[0], 1000.0 * std::numbers::pi, 1e-9) << header;
    }
}

TEST(ImportChannels, slowOnesAreHeldAndMissingBeyond) {
    // 20 Hz rows; the temperature comes every half second; from 4 s to 8 s it does not come at all.
    const rw::Log log = read(driven("time,voltage,motor temp", [](double, int row) {
        const bool told = row % 10 == 0 && !(row > 80 && row < 160);
        return "16.8," + (told ? number(30.0 + row, 1) : std::string());
    }));
    const rw::Channel& temperature = log[Quantity::MotorTemperature];
    EXPECT_NEAR(temperature.interval_s, 0.5, 1e-9);
    EXPECT_NEAR(temperature.values[9], 273.15 + 30.0, 1e-9) << "held between";
    EXPECT_NEAR(temperature.values[10], 273.15 + 40.0, 1e-9);
    EXPECT_TRUE(std::isnan(temperature.values[120])) << "4 s are beyond 5 intervals (2.5 s) and 1 s";
    EXPECT_NEAR(temperature.values[199], 273.15 + 220.0, 1e-9) << "the last value is held to the end";
    EXPECT_EQ(temperature.missing, 79U);
    EXPECT_EQ(log[Quantity::PackVoltage].missing, 0U);
}

TEST(ImportChannels, aFastOneIsHeldForASecondAtMost) {
    const rw::Log log = read(driven("time,voltage,current", [](double, int row) {
        const bool gap = (row >= 20 && row < 30) || (row >= 100 && row < 140);
        return number(16.0 + row % 7 * 0.1, 1) + "," + (gap ? "nan" : number(row % 9, 1));
    }));
    const rw::Channel& current = log[Quantity::PackCurrent];
    EXPECT_FALSE(std::isnan(current.values[25])) << "half a second";
    EXPECT_TRUE(std::isnan(current.values[120])) << "two seconds";
    EXPECT_EQ(current.missing, 40U);
}

TEST(ImportChannels, changedValuesMakeTheIntervalOfAFullColumn) {
    const rw::Log log = read(driven("time,voltage,esc temp", [](double, int row) {
        return number(16.0 + row % 7 * 0.1, 1) + "," + std::to_string(30 + row / 20);
    }));
    EXPECT_NEAR(log[Quantity::ControllerTemperature].interval_s, 1.0, 1e-9);
    EXPECT_NEAR(log[Quantity::PackVoltage].interval_s, 0.05, 1e-9);
    EXPECT_NEAR(log[Quantity::ControllerTemperature].step, 1.0, 1e-9);
    EXPECT_NEAR(log[Quantity::PackVoltage].step, 0.1, 1e-9);
}

TEST(ImportChannels, nothingIsHeldAcrossARestart) {
    std::string text = "time,voltage,motor temp\n";
    for (int part = 0; part < 2; ++part)
        for (int i = 0; i < 20; ++i)
            text += number(0.1 * i, 1) + ",16.8," +
                    (part == 0 && i % 4 == 0 ? "30" : (part == 1 && i == 10 ? "40" : "")) + "\n";
    const rw::Log log = read(text);
    EXPECT_TRUE(std::isnan(log[Quantity::MotorTemperature].values[25]));
    EXPECT_NEAR(log[Quantity::MotorTemperature].values[30], 313.15, 1e-9);
}

TEST(ImportMarks, aColumnThatChangesAllTheTimeNamesNoSessions) {
    const rw::Log log = read(driven("time,current,pack", [](double share, int row) {
        return number(80.0 * share, 1) + "," + number(16.8 - share + 0.01 * (row % 7));
    }));
    EXPECT_FALSE(log[Quantity::SessionMark].present());
    EXPECT_EQ(column(log, "pack").guess, Quantity::SessionMark);
    EXPECT_TRUE(notesHold(log, "changes too often"));
}

TEST(ImportMarks, sessionsAreNumberedAndEventsFlagged) {
    std::string text = "time,voltage,Power-up no.,event\n";
    const char* events[] = {"", "Connected", "disconnected", "restart", "power on", "Start of run", "driving", ""};
    for (int i = 0; i < 8; ++i)
        text += std::to_string(i) + ",16.8," + (i < 3 ? "7" : "alpha") + "," + events[i] + "\n";
    const rw::Log log = read(text);
    EXPECT_EQ(log[Quantity::SessionMark].values, (std::vector<double>{0, 0, 0, 1, 1, 1, 1, 1}));
    EXPECT_EQ(log[Quantity::EventMark].values, (std::vector<double>{0, 1, 0, 0, 1, 1, 0, 0}));
}

} // namespace
