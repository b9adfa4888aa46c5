// The ladder drawn: a stair over speed and, under each tread, on the same column, its step. The same on screen and on
// paper; logical pixels.
#pragma once

#include "app/desktop/pages/ladder_sheet.h"
#include "plotting/look.h"

#include <QSizeF>

#include <cstddef>
#include <optional>

class QPainter;

namespace rw {

struct LadderPart { // columns of the sheet, whole ones only
    std::size_t first = 0, count = 0;
};
inline constexpr std::size_t ladderColumnsOnAPage = 5;
[[nodiscard]] std::vector<LadderPart> ladderPages(const LadderSheet& sheet); // one at least

// The least that holds every word.
[[nodiscard]] QSizeF ladderLeast(const LadderSheet& sheet, const LadderPart& part);
[[nodiscard]] double ladderLeastHeight(const LadderSheet& sheet, const LadderPart& part, double width);
// chosen: an index of the sheet's columns, marked at its head.
void paintLadder(QPainter& painter, const LadderSheet& sheet, const LadderPart& part, const Look& look, QSizeF size,
                 std::optional<std::size_t> chosen = {});
// Left and right of a column in a drawing of this width.
[[nodiscard]] std::pair<double, double> ladderColumnAt(const LadderSheet& sheet, const LadderPart& part, double width,
                                                       std::size_t column);

} // namespace rw
