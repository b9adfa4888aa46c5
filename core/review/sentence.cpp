#include "core/review/sentence.h"

#include <algorithm>
#include <cctype>
#include <fmt/format.h>

namespace rw {

Sentence::Sentence(std::string text)
    : pattern(std::move(text)) {
    std::ranges::replace(pattern, '{', '(');
    std::ranges::replace(pattern, '}', ')');
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

std::string textOf(const SaidNumber& number, const UnitChoice& units) {
    const ShownUnit unit = shownUnit(number.dimension, units);
    std::string text = fmt::format("{:.{}f}", unit.shown(number.value), number.decimals);
    if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1); // no "-0.0"
    return unit.symbol.empty() ? text : text + " " + std::string(unit.symbol);
}

std::string textOf(const Sentence& sentence, const UnitChoice& units) {
    std::string text;
    std::size_t next = 0;
    for (std::size_t i = 0; i < sentence.pattern.size(); ++i) {
        if (sentence.pattern.compare(i, 2, "{}") != 0) {
            text += sentence.pattern[i];
            continue;
        }
        text += textOf(sentence.numbers[next++], units);
        ++i;
    }
    return text;
}

} // namespace rw
