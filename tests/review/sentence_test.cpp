// Sentences whose numbers know what they are. The conversions are those of SI and of the international mile.
#include "core/review/sentence.h"

#include <gtest/gtest.h>

namespace rw {
namespace {

TEST(Sentence, tellsItsNumbersInStandardUnits) {
    const Sentence s = "reached " + SaidNumber{83.44, Dimension::Temperature, 1} + ", " +
                       SaidNumber{0.953, Dimension::Share, 0} + " at " + SaidNumber{1000.0, Dimension::Rpm, 0} +
                       " over " + SaidNumber{0.0123, Dimension::Resistance, 1};
    EXPECT_EQ(textOf(s), "reached 83.4 °C, 95 % at 1000 rpm over 12.3 mΩ");
    EXPECT_EQ(textOf(SaidNumber{-0.004, Dimension::Voltage, 2}), "0.00 V");
    EXPECT_EQ(textOf(SaidNumber{-0.04, Dimension::Voltage, 2}), "-0.04 V");
}

TEST(Sentence, tellsThemAsTheReaderWants) {
    const Sentence s = "cost " + SaidNumber{10.0, Dimension::Speed, 1} + ", " + SaidNumber{3.0, Dimension::Voltage, 1} +
                       ", " + SaidNumber{100.0, Dimension::Temperature, 0} + ", up by " +
                       SaidNumber{10.0, Dimension::Warming, 0};
    EXPECT_EQ(textOf(s), "cost 10.0 m/s, 3.0 V, 100 °C, up by 10 °C");
    UnitChoice choice;
    EXPECT_EQ(textOf(s, choice), "cost 36.0 km/h, 3.0 V, 100 °C, up by 10 °C");
    choice.speed = SpeedUnit::Mph;
    choice.temperature = TemperatureUnit::Fahrenheit; // 32 °F + 1.8 a degree; 10 m/s are 22.37 mph
    EXPECT_EQ(textOf(s, choice), "cost 22.4 mph, 3.0 V, 212 °F, up by 18 °F");
}

TEST(Sentence, bracesOfOtherTextsAreNoPlaces) {
    EXPECT_EQ(textOf(Sentence(std::string("a {} b")) + SaidNumber{1.0, Dimension::Number, 0}), "a () b1");
}

TEST(Sentence, beginsLarge) { EXPECT_EQ(textOf(Sentence("motor").upperFirst()), "Motor"); }

} // namespace
} // namespace rw
