#include "app/batch/options.h"

#include "core/error.h"

#include <algorithm>
#include <cmath>

namespace rw::batch {

namespace {

std::optional<double> whole(const char* begin, const char* end) {
    double value = 0.0;
    const auto read = std::from_chars(begin, end, value, std::chars_format::fixed);
    if (read.ec != std::errc() || read.ptr != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

} // namespace

void addRuns(CLI::App& command, std::size_t& runs, const std::string& meaning) {
    command.add_option("--runs", runs, meaning)->check(CLI::Range(1, 1'000'000))->type_name("N");
}

std::pair<double, double> rangeOf(const std::string& words, const char* option) {
    const char* const begin = words.data();
    const char* const end = begin + words.size();
    const auto dash = words.find('-', 1);
    if (dash == std::string::npos) {
        if (const auto value = whole(begin, end)) return {*value, *value};
    } else {
        const auto low = whole(begin, begin + dash), high = whole(begin + dash + 1, end);
        if (low && high) return {*low, *high};
    }
    throw CLI::ValidationError(option, "expected a range such as 2-12, found " + escapeControls(words));
}

std::pair<std::string, double> namedNumber(const std::string& words, const char* option) {
    const std::size_t sign = std::min(words.find('='), words.size());
    const auto value = numberIn<double>(std::string_view(words).substr(std::min(sign + 1, words.size())));
    if (!value) throw InputError(option, "expected NAME=VALUE such as passSpan=4; found " + escapeControls(words));
    return {words.substr(0, sign), *value};
}

std::string wordsToChooseFrom(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i)
        out += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + words[i];
    return out;
}

} // namespace rw::batch
