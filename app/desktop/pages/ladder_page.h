// The ladder on paper: a block a step with its figures, boxes to tick, a line to write on, cautions.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/units.h"
#include "core/choose/ladder.h"

#include <QString>

namespace rw {

struct LadderPageHead {
    QString name, venue;               // of what climbs and where
    double proven = 0.0, target = 0.0; // m/s
};

// Words of the figures that are looked at between two steps, in their shown unit.
[[nodiscard]] QString ladderFigureLabel(std::string_view figure, const Units& units);
[[nodiscard]] QString ladderFigure(std::string_view figure, double value, const Units& units); // without the unit
// "≤ 193"; a value to stop at is "> 206".
[[nodiscard]] QString ladderCondition(const LadderCondition& condition, bool stops, const Units& units);
[[nodiscard]] QString ladderBlockText(const LadderBlock& block, const Units& units);

[[nodiscard]] PageDocument makeLadderPage(const LadderPageHead& head, const Ladder& ladder, const Units& units);

} // namespace rw
