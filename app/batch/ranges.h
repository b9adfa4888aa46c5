// Options of a form of their own: a range ("2-12", or one number for both ends), a named number ("NAME=4").
#pragma once

#include <string>
#include <utility>

namespace rw::batch {

// Throws CLI::ValidationError for anything else; the order is the caller's to judge.
[[nodiscard]] std::pair<double, double> rangeOf(const std::string& words, const char* option);
// Throws InputError for anything but NAME=VALUE; the name is the caller's to judge.
[[nodiscard]] std::pair<std::string, double> namedNumber(const std::string& words, const char* option);

} // namespace rw::batch
