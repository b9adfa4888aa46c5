// Figures and lists of teeth as people read and write them.
#pragma once

#include "core/plan/plan_fields.h"

#include <QString>

#include <string>
#include <vector>

namespace rw {

// A short figure stays as it is ("1.85", "60000"); one that a change of unit or a fit made long is rounded to four
// significant digits, or to the second digit of its standard uncertainty (0: not known). Digits before the point always
// stand. True minus, no group spaces: it can be typed back.
[[nodiscard]] QString meantText(double value, double uncertainty = 0.0);
// A figure that a fit gave: to the second digit of its standard uncertainty (over 0), zeros kept.
[[nodiscard]] QString fittedText(double value, double uncertainty);
// A standard uncertainty: two significant digits, without trailing zeros.
[[nodiscard]] QString meantUncertainty(double value);

// Lists of teeth as people write them: "20, 22, 25-34", "20..30", "20 to 30"; and as they read them: "25 to 28, 34".
// Each count once, in the order given. Throws InputError without a place, one sentence, where a word is not understood
// or the field does not allow a count.
[[nodiscard]] std::vector<int> typedTeeth(const PlanField& field, const QString& text);
// Three and more in a row become a range; typedTeeth() reads it back.
[[nodiscard]] QString teethText(const std::vector<int>& teeth);
// As the garage keeps a list, "[25,26,27]"; empty where the text is none.
[[nodiscard]] std::vector<int> teethFromText(const std::string& text);

} // namespace rw
