// Options that several commands take, or that have a form of their own: a range ("2-12", or one number for both ends),
// a named number ("NAME=4"), one of some words.
#pragma once

#include "app/batch/text_output.h"

#include <CLI/CLI.hpp>

#include <charconv>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rw::batch {

// The whole text as a number; none where it is anything else.
template<class Number>
[[nodiscard]] std::optional<Number> numberIn(std::string_view text) {
    Number value{};
    const auto [after, failed] = std::from_chars(text.data(), text.data() + text.size(), value);
    return failed == std::errc() && after == text.data() + text.size() ? std::optional(value) : std::nullopt;
}
// "3,6"; none where one of them is no number.
template<class Number>
[[nodiscard]] std::optional<std::vector<Number>> numbersIn(std::string_view text, char between) {
    std::vector<Number> out;
    for (;;) {
        const std::size_t end = text.find(between);
        const auto number = numberIn<Number>(text.substr(0, end));
        if (!number) return {};
        out.push_back(*number);
        if (end == std::string_view::npos) return out;
        text.remove_prefix(end + 1);
    }
}

// "--runs N", 1 to 1,000,000.
void addRuns(CLI::App& command, std::size_t& runs, const std::string& meaning);
// Throws CLI::ValidationError for anything else; the order is the caller's to judge.
[[nodiscard]] std::pair<double, double> rangeOf(const std::string& words, const char* option);
// Throws InputError for anything but NAME=VALUE; the name is the caller's to judge.
[[nodiscard]] std::pair<std::string, double> namedNumber(const std::string& words, const char* option);

// "fastest, least-current or shortest".
[[nodiscard]] std::string wordsToChooseFrom(const std::vector<std::string>& words);
// An option that takes one of some words, each for a value; anything else is refused with all of them named. The value
// and the choices outlive the command.
template<class Value, class Choice>
CLI::Option* addChoice(CLI::App& command, const std::string& name, Value& value,
                       const std::map<std::string, Choice>& choices, const std::string& description) {
    const auto take = [&value, &choices, name](const std::string& word) {
        const auto found = choices.find(word);
        if (found == choices.end()) {
            std::vector<std::string> words;
            words.reserve(choices.size());
            for (const auto& choice : choices)
                words.push_back(choice.first);
            throw CLI::ValidationError(name,
                                       "expected " + wordsToChooseFrom(words) + ", found " + escapeControls(word));
        }
        value = found->second;
    };
    return command.add_option_function<std::string>(name, take, description);
}

} // namespace rw::batch
