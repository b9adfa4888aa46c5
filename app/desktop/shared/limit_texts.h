// Words for the limits of "Will it hold?": name, what value and allowance mean, what to do when one is broken.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/plan.h"

#include <QString>

#include <string_view>

namespace rw {

[[nodiscard]] QString limitTitle(std::string_view limit);  // "Motor case, after soak"
[[nodiscard]] QString limitShort(std::string_view limit);  // "motor case": for tables
[[nodiscard]] QString limitAdvice(std::string_view limit); // what to do when it is broken: one sentence

struct LimitTexts {
    QString value, allowed; // "69 °C", "comfort 80 °C"
    QString left;           // "22 % left", "4 % over"
};
[[nodiscard]] LimitTexts limitTexts(const Margin& margin, const Units& units);

} // namespace rw
