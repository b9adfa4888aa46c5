// The safety words, in one place: command line, planner, About and the pages show the same sentences.
#pragma once

#include <span>
#include <string_view>

namespace rw {

[[nodiscard]] std::string_view shortCaution(); // one paragraph for under the margins
[[nodiscard]] std::span<const std::string_view> cautions();

} // namespace rw
