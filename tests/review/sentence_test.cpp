// Sentences whose numbers know what they are. The conversions are those of SI and of the international mile.
#include "core/review/sentence.h"
#include "core/units.h"

#include <gtest/gtest.h>

namespace rw {
namespace {

TEST(Sentence, tellsItsNumbersInStandardUnits) {
    const Sentence s = "reached " + SaidNumber{kelvinFromCelsius(83.44), Measure::Temperature, 1} + ", " +
                       SaidNumber{0.953, Measure::Share, 0} + " at " +
                       SaidNumber{1000.0 * radpsPerRpm, Measure::Rotation, 0} + " over " +
                       SaidNumber{0.0123, Measure::Resistance, 1};
    EXPECT_EQ(plainText(s), "reached 83.4 °C, 95 % at 1000 rpm over 12.3 mohm");
    EXPECT_EQ(plainText(SaidNumber{-0.004, Measure::Voltage, 2}), "0.00 V");
    EXPECT_EQ(plainText(SaidNumber{-0.04, Measure::Voltage, 2}), "-0.04 V");
}

TEST(Sentence, tellsThemAsTheReaderWants) {
    const Sentence s = "cost " + SaidNumber{10.0, Measure::Speed, 1} + " and " + SaidNumber{3.0, Measure::Voltage, 1};
    const auto kmh = [](const SaidNumber& n) {
        return n.measure == Measure::Speed ? std::to_string(static_cast<int>(n.value * kmhPerMps)) + " km/h"
                                           : plainNumber(n);
    };
    EXPECT_EQ(textOf(s, kmh), "cost 36 km/h and 3.0 V");
}

TEST(Sentence, bracesOfOtherTextsAreNoPlaces) {
    EXPECT_EQ(plainText(Sentence(std::string("a {} b")) + SaidNumber{1.0, Measure::Number, 0}), "a () b1");
}

TEST(Sentence, beginsLarge) { EXPECT_EQ(plainText(Sentence("motor").upperFirst()), "Motor"); }

} // namespace
} // namespace rw
