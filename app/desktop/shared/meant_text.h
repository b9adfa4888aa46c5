// A figure as it is meant: no more digits than it is known to, no fewer than it was typed with.
#pragma once

#include <QString>

namespace rw {

// A short figure stays as it is ("1.85", "60000"); one that a change of unit or a fit made long is rounded to four
// significant digits, or to the second digit of its standard uncertainty (0: not known). Digits before the point always
// stand. True minus, no group spaces: it can be typed back.
[[nodiscard]] QString meantText(double value, double uncertainty = 0.0);
// A figure that a fit gave: to the second digit of its standard uncertainty (over 0), zeros kept.
[[nodiscard]] QString fittedText(double value, double uncertainty);
// A standard uncertainty: two significant digits, without trailing zeros.
[[nodiscard]] QString meantUncertainty(double value);

} // namespace rw
