#include "core/review/sentence.h"

#include "core/units.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <iterator>

namespace rw {

namespace {

struct Shown {
    std::string_view unit;
    double scale = 1.0, offset = 0.0;
};

Shown shownAs(Measure measure) {
    switch (measure) {
    case Measure::Number:
        return {};
    case Measure::Share:
        return {"%", 100.0};
    case Measure::Time:
        return {"s"};
    case Measure::Voltage:
        return {"V"};
    case Measure::Current:
        return {"A"};
    case Measure::Power:
        return {"W"};
    case Measure::Speed:
        return {"m/s"};
    case Measure::Distance:
        return {"m"};
    case Measure::Temperature:
        return {"°C", 1.0, -zeroCelsius_K};
    case Measure::Warming:
        return {"°C"};
    case Measure::Rotation:
        return {"rpm", rpmPerRadps};
    case Measure::Wheels:
        return {"rad/s"};
    case Measure::Resistance:
        return {"mohm", 1000.0};
    case Measure::Rate:
        return {"Hz"};
    }
    return {};
}

} // namespace

Sentence::Sentence(std::string text)
    : pattern(std::move(text)) {
    std::replace(pattern.begin(), pattern.end(), '{', '(');
    std::replace(pattern.begin(), pattern.end(), '}', ')');
}

Sentence& Sentence::operator+=(const Sentence& more) {
    pattern += more.pattern;
    numbers.insert(numbers.end(), more.numbers.begin(), more.numbers.end());
    return *this;
}

Sentence& Sentence::upperFirst() {
    if (!pattern.empty()) pattern[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(pattern[0])));
    return *this;
}

Sentence operator+(Sentence a, const Sentence& b) { return std::move(a += b); }

std::string plainNumber(const SaidNumber& number) {
    const Shown shown = shownAs(number.measure);
    char digits[400]; // of the largest double
    const auto [end, error] =
        std::to_chars(std::begin(digits), std::end(digits), number.value * shown.scale + shown.offset,
                      std::chars_format::fixed, number.decimals);
    std::string text(std::begin(digits), error == std::errc() ? end : std::begin(digits));
    if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1); // no "-0.0"
    return shown.unit.empty() ? text : text + " " + std::string(shown.unit);
}

std::string plainText(const Sentence& sentence) { return textOf(sentence, plainNumber); }

std::string textOf(const Sentence& sentence, const NumberTeller& tell) {
    std::string text;
    std::size_t next = 0;
    for (std::size_t i = 0; i < sentence.pattern.size(); ++i) {
        if (sentence.pattern.compare(i, 2, "{}") != 0) {
            text += sentence.pattern[i];
            continue;
        }
        text += tell(sentence.numbers[next++]);
        ++i;
    }
    return text;
}

} // namespace rw
