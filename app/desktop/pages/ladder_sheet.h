// The ladder in words and figures, as it stands on screen and on paper: a tread a column, under it the step.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/units.h"
#include "core/choose/ladder.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <utility>
#include <vector>

namespace rw {

struct LadderLine { // a figure that is looked at before the next step; "" where there is no such condition
    QString label, unit, expect, goOn, stop;
};

struct LadderColumn {
    QString head, change, stays;              // "step 1", "pinion 27 → 30", "6 cells, spur 54 stay"
    QString figure, band;                     // over the tread: "156.4", "153.6 … 159.2"
    QStringList under;                        // under the tread: chances, what is tightest
    double low = 0.0, mean = 0.0, high = 0.0; // in the shown unit
    bool risky = false, blocked = false;      // blocked: a dashed tread; `under` says what blocks
    std::vector<LadderLine> lines;
    QString waitLabel, wait;
    QStringList boxes; // to tick
    QString seen;      // before the line to write on
};

struct LadderSheet {
    QString title, beside, axis; // axis: what the stair rises over, with its unit
    QString provenFigure, provenWords;
    double proven = 0.0; // in the shown unit, as target
    std::optional<double> target;
    QString targetWords;
    LadderLine heads; // of the columns of figures
    std::vector<LadderColumn> columns;
    std::vector<std::pair<QString, QString>> reading; // beside the steps: head and text
    QString cautionHead;
    QString cautions;
};

struct LadderHead {
    QString name, venue;
    double proven = 0.0, target = 0.0; // m/s
    PlanInput start;                   // what the first step changes
};

[[nodiscard]] LadderSheet ladderSheet(const LadderHead& head, const Ladder& ladder, const Units& units);
[[nodiscard]] QString ladderBlockText(const LadderBlock& block, const Units& units);
// The same as a table of text: a row a figure, a column a step.
[[nodiscard]] std::vector<QStringList> ladderTable(const LadderSheet& sheet);

// The ladder as a page: drawn on paper as on screen, at most five steps a page; as text in HTML.
[[nodiscard]] PageDocument makeLadderPage(const LadderSheet& sheet);

} // namespace rw
