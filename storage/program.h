// The program's name and version as documents carry it.
#pragma once

#include <string>

namespace rw {

[[nodiscard]] std::string programName(); // "runwright 0.1.0"

} // namespace rw
