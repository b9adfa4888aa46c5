// Options that name a range: "2-12", or one number for both ends.
#pragma once

#include <string>
#include <utility>

namespace rw::batch {

// Throws CLI::ValidationError for anything else; the order is the caller's to judge.
[[nodiscard]] std::pair<double, double> rangeOf(const std::string& words, const char* option);

} // namespace rw::batch
