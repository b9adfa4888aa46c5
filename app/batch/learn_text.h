// What learning found, as a good engineer would write it down.
#pragma once

#include "core/learn/learn.h"

#include <span>
#include <string>

namespace rw::batch {

class Ink;

[[nodiscard]] std::string learnText(const LearnReport& report, std::span<const LearnLog> logs, const Ink& ink);
[[nodiscard]] std::string nextText(const NextReport& report, const Ink& ink);

} // namespace rw::batch
