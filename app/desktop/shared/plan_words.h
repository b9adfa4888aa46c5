// What the core says of a plan in the words of the window and of its pages: limits and what to do where one is broken,
// the answer to "Will it hold?", cautions, stretches of the strip.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/hold.h"
#include "core/plan/plan.h"
#include "core/plan/strip.h"

#include <QString>
#include <QStringList>

#include <string_view>

namespace rw {

[[nodiscard]] QString limitTitle(std::string_view limit);  // "Motor case, after soak"
[[nodiscard]] QString limitShort(std::string_view limit);  // "motor case": for tables
[[nodiscard]] QString limitAdvice(std::string_view limit); // what to do when it is broken: one sentence

// Of it, for tables: "motor case 12 %", "cells over".
[[nodiscard]] QString limitLeft(std::string_view limit, double margin);

struct LimitTexts {
    QString value, allowed; // "69 °C", "comfort 80 °C"
    QString left;           // "22 % left", "4 % over"
};
[[nodiscard]] LimitTexts limitTexts(const Margin& margin, const Units& units);

// The answer to "Will it hold?" in a sentence or two.
// "It holds; the strip is the tightest, 23 % left." "Not like this: the lowest cell is 4 % over; 31/46 would hold."
[[nodiscard]] QString holdSentence(const HoldAnswer& answer, const Units& units);
// "Grip holds it back for 4.3 s; more cells change nothing." "" where nothing held it back for most of the way.
[[nodiscard]] QString heldBackSentence(const HoldBack& held, const Units& units);

// The safety words of core/plan/cautions.h as the window and the pages take them.
[[nodiscard]] QString cautionLine();
[[nodiscard]] QStringList cautionList();

[[nodiscard]] QString waitText(int seconds);          // "45 s", "3 min", "3 min 20 s"
[[nodiscard]] QString pairText(int pinion, int spur); // "26/44"

// What the stretches of the strip are called, on the screen and on paper.
[[nodiscard]] QString stripWord(StripKind kind); // "run-up"

} // namespace rw
