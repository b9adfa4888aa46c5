// What the stretches of the strip are called, on the screen and on paper.
#pragma once

#include "core/plan/strip.h"

#include <QString>

namespace rw {

[[nodiscard]] QString stripWord(StripKind kind); // "run-up"

} // namespace rw
