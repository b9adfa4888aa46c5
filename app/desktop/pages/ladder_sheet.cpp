#include "app/desktop/pages/ladder_sheet.h"

#include "app/desktop/pages/ladder_drawing.h"
#include "app/desktop/shared/plan_words.h"
#include "core/plan/limits.h"
#include "core/plan/reach_binding.h"
#include "plotting/look.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace rw {

namespace {

struct Watched {
    std::string_view figure;
    const char* label;
    Dimension dimension;
    int decimals;
};
constexpr std::array watched{
    Watched{"peak_pack_A", QT_TRANSLATE_NOOP("pages", "peak current"), Dimension::Current, 0},
    Watched{"min_cell_V", QT_TRANSLATE_NOOP("pages", "lowest cell"), Dimension::Voltage, 2},
    Watched{"case_soak_peak_C", QT_TRANSLATE_NOOP("pages", "case, soaked"), Dimension::Temperature, 0},
    Watched{"controller_peak_C", QT_TRANSLATE_NOOP("pages", "controller"), Dimension::Temperature, 0},
    Watched{"pack_peak_C", QT_TRANSLATE_NOOP("pages", "pack"), Dimension::Temperature, 0},
    Watched{"min_front_load_ratio", QT_TRANSLATE_NOOP("pages", "front axle"), Dimension::Share, 0},
    Watched{"stop_at_m", QT_TRANSLATE_NOOP("pages", "stands at"), Dimension::Distance, 0}};

QString tr(const char* text) { return QCoreApplication::translate("pages", text); }

// Under one in a hundred is not none.
QString percent(double share) {
    if (share > 0.0 && share < 0.005) return QStringLiteral("< 1 %");
    if (share < 1.0 && share > 0.995) return QStringLiteral("> 99 %");
    return shareText(share);
}

const LadderFigure* figureOf(const LadderStep& step, std::string_view name) {
    const auto found = std::ranges::find(step.expect, name, &LadderFigure::figure);
    return found == step.expect.end() ? nullptr : &*found;
}

const LadderCondition* conditionOf(const std::vector<LadderCondition>& all, std::string_view figure) {
    const auto found =
        std::ranges::find(all, figure, [](const LadderCondition& one) -> std::string_view { return one.figure; });
    return found == all.end() ? nullptr : &*found;
}

// What ends the day is never a reason to go on: a band that reaches beyond it is cut there.
QString goOnText(const LadderStep& step, const Watched& what, const Units& units) {
    const LadderCondition* goOn = conditionOf(step.goOnIf, what.figure);
    if (goOn == nullptr) return {};
    double value = goOn->value;
    if (const LadderCondition* stop = conditionOf(step.stopIf, what.figure))
        value = goOn->atMost ? std::min(value, stop->value) : std::max(value, stop->value);
    return (goOn->atMost ? QStringLiteral("≤ ") : QStringLiteral("≥ ")) +
           units.figure(what.dimension, value, what.decimals);
}

QString stopText(const LadderStep& step, const Watched& what, const Units& units) {
    const LadderCondition* stop = conditionOf(step.stopIf, what.figure);
    if (stop == nullptr) return {};
    return (stop->atMost ? QStringLiteral("< ") : QStringLiteral("> ")) +
           units.figure(what.dimension, stop->value, what.decimals);
}

// What the step changes and what stays, each in words.
std::pair<QString, QString> changeTexts(const PlanInput& was, const PlanInput& is) {
    QStringList changes, stays;
    const auto add = [&](const char* change, const char* same, int before, int now) {
        if (before != now)
            changes << tr(change).arg(before).arg(now);
        else
            stays << tr(same).arg(now);
    };
    add(QT_TRANSLATE_NOOP("pages", "cells %1 → %2"), QT_TRANSLATE_NOOP("pages", "%1 cells"), was.pack.series,
        is.pack.series);
    add(QT_TRANSLATE_NOOP("pages", "pinion %1 → %2"), QT_TRANSLATE_NOOP("pages", "pinion %1"), was.gears.pinion_teeth,
        is.gears.pinion_teeth);
    add(QT_TRANSLATE_NOOP("pages", "spur %1 → %2"), QT_TRANSLATE_NOOP("pages", "spur %1"), was.gears.spur_teeth,
        is.gears.spur_teeth);
    return {changes.isEmpty() ? tr("the setup as it is") : changes.join(QStringLiteral(", ")),
            stays.isEmpty() ? QString() : tr("stays: %1").arg(stays.join(QStringLiteral(", ")))};
}

QString marginText(const Margin& margin, const Units& units) {
    return limitShort(margin.limit) + QLatin1Char(' ') + limitTexts(margin, units).left;
}

QString restText(const std::optional<double>& wait_s) {
    if (!wait_s) return tr("none is enough");
    const int seconds = static_cast<int>(std::lround(*wait_s));
    return seconds == 0 ? tr("none needed") : waitText(seconds);
}

void addLines(LadderColumn& column, const LadderStep& step, const Units& units) {
    for (const Watched& what : watched) {
        const LadderFigure* expected = figureOf(step, what.figure);
        const QString goOn = goOnText(step, what, units), stop = stopText(step, what, units);
        if (!expected || (goOn.isEmpty() && stop.isEmpty())) continue;
        column.lines.push_back({tr(what.label), units.symbol(what.dimension),
                                units.figure(what.dimension, expected->mean, what.decimals), goOn, stop});
    }
    // Whatever the figures say, the tyres' rating ends the day.
    for (const Margin& margin : step.margins)
        if (margin.limit == "tyre_speed")
            column.lines.push_back(
                {tr("tyre speed"),
                 units.symbol(limitRow(margin.limit).dimension),
                 units.figure(limitRow(margin.limit).dimension, margin.value, 0),
                 {},
                 QStringLiteral("> ") + units.figure(limitRow(margin.limit).dimension, margin.allowed, 0)});
}

LadderColumn columnOf(const LadderStep& step, int number, const PlanInput& before, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    LadderColumn out;
    out.head = tr("step %1").arg(number);
    std::tie(out.change, out.stays) = changeTexts(before, step.plan);
    out.risky = step.risky();
    const LadderFigure* zone = figureOf(step, "zone_mean_mps");
    const LadderFigure seen = zone ? *zone : LadderFigure{"zone_mean_mps", step.speed, step.speed, step.speed};
    out.low = speed.shown(seen.p05), out.mean = speed.shown(seen.mean), out.high = speed.shown(seen.p95);
    out.figure = (out.risky ? QStringLiteral("▲ ") : QString()) + units.figure(Dimension::Speed, seen.mean, 1);
    if (seen.p95 > seen.p05) out.band = spanText(out.low, out.high, 1);
    out.under << tr("makes %1: %2").arg(units.figure(Dimension::Speed, step.speed, 1), percent(step.targetProbability));
    out.under << (out.risky ? tr("▲ breaks a limit: %1, not advised") : tr("breaks a limit: %1"))
                     .arg(percent(step.limitProbability));
    if (!step.margins.empty()) out.under << tr("tightest: %1").arg(marginText(step.margins.front(), units));
    addLines(out, step, units);
    out.waitLabel = tr("wait before the next");
    out.wait = restText(step.wait_s);
    out.boxes = {tr("made %1").arg(units.text(Dimension::Speed, step.speed, 1)), tr("every figure says go on"),
                 tr("tyres, mesh, pack looked at")};
    out.seen = tr("seen");
    return out;
}

LadderColumn blockedColumn(const LadderBlock& block, const Units& units) {
    LadderColumn out;
    out.blocked = true;
    out.mean = out.low = out.high = units.of(Dimension::Speed).shown(block.speed);
    out.figure = units.figure(Dimension::Speed, block.speed, 1);
    out.head = tr("no step");
    out.change = tr("nothing makes it within limits");
    out.under << ladderBlockText(block, units);
    return out;
}

QString titleOf(const LadderHead& head, std::size_t steps, const Units& units) {
    const QString from = units.figure(Dimension::Speed, head.proven, 1);
    const QString to = units.text(Dimension::Speed, head.target, 1);
    if (steps == 0) return tr("Ladder: %1, %2 to %3").arg(head.name, from, to);
    if (steps == 1) return tr("Ladder: %1, %2 to %3 in one step").arg(head.name, from, to);
    return tr("Ladder: %1, %2 to %3 in %4 steps").arg(head.name, from, to).arg(steps);
}

// One size for all pages, so that steps are as wide on the last, shorter one.
DrawnPages drawnLadder(const LadderSheet& sheet) {
    DrawnPages out;
    const std::vector<LadderPart> parts = ladderPages(sheet);
    out.count = static_cast<int>(parts.size());
    for (const LadderPart& part : parts)
        out.least = out.least.expandedTo(ladderLeast(sheet, part));
    out.paint = [sheet, parts](QPainter& painter, int page, QSizeF size) {
        LadderSheet numbered = sheet;
        if (parts.size() > 1)
            numbered.beside = tr("%1 · page %2 of %3").arg(sheet.beside).arg(page + 1).arg(parts.size());
        paintLadder(painter, numbered, parts[static_cast<std::size_t>(page)], Look::light(), size);
    };
    return out;
}

} // namespace

QString ladderBlockText(const LadderBlock& block, const Units& units) {
    const QString head = tr("The ladder ends below %1: ").arg(units.text(Dimension::Speed, block.speed, 1));
    if (block.limit == "gears") return head + tr("no pinion and spur at hand fit the mount.");
    const auto limits = limitTable();
    if (std::any_of(limits.begin(), limits.end(), [&](const LimitRow& row) { return row.name == block.limit; }))
        return head + tr("the nearest try breaks %1 by %2.").arg(limitTitle(block.limit), percent(-block.margin));
    return head + tr("the nearest try lacks %1 of it; %2.")
                      .arg(percent(-block.margin), QString::fromUtf8(bindingText(block.limit)));
}

LadderSheet ladderSheet(const LadderHead& head, const Ladder& ladder, const Units& units) {
    const UnitView speed = units.of(Dimension::Speed);
    LadderSheet out;
    out.title = titleOf(head, ladder.steps.size(), units);
    out.beside = head.venue;
    out.axis = tr("timed zone, %1").arg(speed.symbol);
    out.proven = speed.shown(head.proven), out.target = speed.shown(head.target);
    out.provenFigure = units.figure(Dimension::Speed, head.proven, 1);
    out.provenWords = tr("proven");
    out.targetWords = tr("target %1").arg(units.figure(Dimension::Speed, head.target, 1));
    out.heads = {{}, {}, tr("expect"), tr("go on if"), tr("stop if")};
    const PlanInput* before = &head.start;
    int number = 0;
    for (const LadderStep& step : ladder.steps) {
        out.columns.push_back(columnOf(step, ++number, *before, units));
        before = &step.plan;
    }
    if (ladder.blocked) out.columns.push_back(blockedColumn(*ladder.blocked, units));
    out.reading = {{tr("Read like this"), tr("Expect is the mean. Go on if each figure stays within its own "
                                             "nine in ten. Stop, and end the day, when half of what was left "
                                             "beyond that is gone: find out why.")},
                   {tr("After each pass"), tr("Save the log, read the motor after one minute, look at tyres "
                                              "and gear mesh. One change at a time.")}};
    out.cautionHead = tr("Before every step");
    out.cautions = cautionList().join(QLatin1Char(' '));
    return out;
}

std::vector<QStringList> ladderTable(const LadderSheet& sheet) {
    std::vector<QStringList> rows{{QString()}, {tr("change")}, {sheet.axis}, {QString()}, {QString()}};
    for (const LadderColumn& column : sheet.columns) {
        rows[0] << column.head;
        rows[1] << column.change;
        rows[2] << (column.figure + QLatin1Char(' ') + column.band).trimmed();
        rows[3] << column.under.join(QStringLiteral("; "));
        rows[4] << (column.waitLabel + QLatin1Char(' ') + column.wait).trimmed();
    }
    std::vector<QString> labels;
    for (const LadderColumn& column : sheet.columns)
        for (const LadderLine& line : column.lines)
            if (std::find(labels.begin(), labels.end(), line.label) == labels.end()) labels.push_back(line.label);
    for (const QString& label : labels) {
        QStringList row{label};
        for (const LadderColumn& column : sheet.columns) {
            QStringList cell;
            for (const LadderLine& line : column.lines) {
                if (line.label != label) continue;
                row[0] = label + QStringLiteral(", ") + line.unit;
                cell << line.expect;
                if (!line.goOn.isEmpty()) cell << sheet.heads.goOn + QLatin1Char(' ') + line.goOn;
                if (!line.stop.isEmpty()) cell << sheet.heads.stop + QLatin1Char(' ') + line.stop;
            }
            row << cell.join(QStringLiteral("; "));
        }
        rows.push_back(row);
    }
    return rows;
}

PageDocument makeLadderPage(const LadderSheet& sheet) {
    PageDocument page(sheet.title);
    page.title(sheet.title, sheet.beside);
    page.table(ladderTable(sheet));
    for (const LadderColumn& column : sheet.columns)
        if (!column.boxes.isEmpty()) page.checklists({{column.head, column.boxes}});
    for (const auto& [head, text] : sheet.reading)
        page.entry(head, {}, {text});
    page.heading(sheet.cautionHead);
    page.paragraph(sheet.cautions, true);
    page.drawOnPaper(drawnLadder(sheet));
    return page;
}

} // namespace rw
