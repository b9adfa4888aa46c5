// A sentence with numbers in it that know what they are, so that each reader gets them in units of their own.
#pragma once

#include "core/dimension.h"

#include <string>
#include <vector>

namespace rw {

struct SaidNumber {
    double value = 0.0; // as the dimension has it: SI, temperatures °C, turning rpm
    Dimension dimension = Dimension::Number;
    int decimals = 0;
};

// "{}" in the pattern stands for the next of the numbers, unit included. Braces of other texts are not let in.
struct Sentence {
    std::string pattern;
    std::vector<SaidNumber> numbers;

    Sentence() = default;
    Sentence(std::string text); // NOLINT(google-explicit-constructor): text without numbers is a sentence
    Sentence(const char* text)  // NOLINT(google-explicit-constructor)
        : Sentence(std::string(text)) {}
    Sentence(SaidNumber number) // NOLINT(google-explicit-constructor): so is a number
        : pattern("{}")
        , numbers{number} {}
    [[nodiscard]] bool empty() const { return pattern.empty(); }
    Sentence& operator+=(const Sentence& more);
    Sentence& upperFirst(); // its first letter, if a letter begins it
};
[[nodiscard]] Sentence operator+(Sentence a, const Sentence& b);

// m/s, m, °C: what JSON and tests read.
inline constexpr UnitChoice plainUnits{SpeedUnit::Mps, TemperatureUnit::Celsius, LengthUnit::Metric, MassUnit::Metric};
// "83.4 °C", "95 %", with a decimal point.
[[nodiscard]] std::string textOf(const SaidNumber& number, const UnitChoice& units = plainUnits);
[[nodiscard]] std::string textOf(const Sentence& sentence, const UnitChoice& units = plainUnits);

} // namespace rw
