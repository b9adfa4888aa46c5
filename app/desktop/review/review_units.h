// A logged quantity in the units that the person chose. One place for lanes, overlay and tables of Review.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/log/quantity.h"
#include "core/review/review.h"
#include "plotting/look.h"

#include <QString>

namespace rw {

struct QuantityView {
    QString name;  // "pack voltage"
    QString brief; // "pack": where the unit stands beside it
    UnitView unit; // from the value as logged (SI, temperatures K)
    Hue hue = Hue::Power;
    bool fromZero = true;
};
[[nodiscard]] QuantityView viewOf(Quantity quantity, const Units& units);
// A figure of a pass, from the unit in which its table has it.
[[nodiscard]] UnitView figureView(const PassFigure& figure, const Units& units);

} // namespace rw
