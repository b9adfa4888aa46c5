// The answer to "Will it hold?" in a sentence or two.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/hold.h"

#include <QString>

namespace rw {

// "It holds; the strip is the tightest, 23 % left." "Not like this: the lowest cell is 4 % over; 31/46 would hold."
[[nodiscard]] QString holdSentence(const HoldAnswer& answer, const Units& units);
// "Grip holds it back for 4.3 s; more cells change nothing." "" where nothing held it back for most of the way.
[[nodiscard]] QString heldBackSentence(const HoldBack& held, const Units& units);

} // namespace rw
