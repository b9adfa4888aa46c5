// A sentence with numbers in it that know what they are, so that each reader gets them in units of their own.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// What a number is. Values are SI; temperatures K.
enum class Measure : std::uint8_t {
    Number,
    Share, // shown as %
    Time,
    Voltage,
    Current,
    Power,
    Speed,
    Distance,
    Temperature,
    Warming,  // a difference of temperatures
    Rotation, // rad/s, shown as rpm
    Wheels,   // rad/s, shown as such
    Resistance,
    Rate, // Hz
};

struct SaidNumber {
    double value = 0.0;
    Measure measure = Measure::Number;
    int decimals = 0; // in standard units
};

// "{}" in the pattern stands for the next of the numbers, unit included. Braces of other texts are not let in.
struct Sentence {
    std::string pattern;
    std::vector<SaidNumber> numbers;

    Sentence() = default;
    Sentence(std::string text); // NOLINT(google-explicit-constructor): text without numbers is a sentence
    Sentence(const char* text)
        : Sentence(std::string(text)) {}
    Sentence(SaidNumber number) // NOLINT(google-explicit-constructor): so is a number
        : pattern("{}")
        , numbers{number} {}
    [[nodiscard]] bool empty() const { return pattern.empty(); }
    Sentence& operator+=(const Sentence& more);
    Sentence& upperFirst(); // its first letter, if a letter begins it
};
[[nodiscard]] Sentence operator+(Sentence a, const Sentence& b);

// "83.4 °C", "95 %": standard units (V, A, W, s, m, m/s, °C, rpm, mohm, Hz), a decimal point.
[[nodiscard]] std::string plainNumber(const SaidNumber& number);
[[nodiscard]] std::string plainText(const Sentence& sentence);
using NumberTeller = std::function<std::string(const SaidNumber&)>;
[[nodiscard]] std::string textOf(const Sentence& sentence, const NumberTeller& tell);

} // namespace rw
