#include "app/desktop/pages/ladder_page.h"

#include "app/desktop/shared/caution_texts.h"
#include "app/desktop/shared/limit_texts.h"
#include "core/plan/limits.h"
#include "core/plan/reach_binding.h"
#include "plotting/look.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>

namespace rw {

namespace {

struct Watched {
    std::string_view figure;
    const char* label;
    Dimension dimension;
    int decimals;
};
constexpr std::array watched{
    Watched{"zone_mean_mps", QT_TRANSLATE_NOOP("pages", "timed zone"), Dimension::Speed, 1},
    Watched{"peak_pack_A", QT_TRANSLATE_NOOP("pages", "peak current"), Dimension::Current, 0},
    Watched{"min_cell_V", QT_TRANSLATE_NOOP("pages", "lowest cell"), Dimension::Voltage, 2},
    Watched{"case_soak_peak_C", QT_TRANSLATE_NOOP("pages", "case, soaked"), Dimension::Temperature, 0},
    Watched{"winding_peak_C", QT_TRANSLATE_NOOP("pages", "winding"), Dimension::Temperature, 0},
    Watched{"controller_peak_C", QT_TRANSLATE_NOOP("pages", "controller"), Dimension::Temperature, 0},
    Watched{"pack_peak_C", QT_TRANSLATE_NOOP("pages", "pack"), Dimension::Temperature, 0},
    Watched{"min_front_load_ratio", QT_TRANSLATE_NOOP("pages", "front axle, of rest"), Dimension::Share, 0},
    Watched{"stop_at_m", QT_TRANSLATE_NOOP("pages", "stands at"), Dimension::Distance, 0}};

QString words(const char* text) { return QCoreApplication::translate("pages", text); }

const Watched& watchedOf(std::string_view figure) {
    const auto found =
        std::find_if(watched.begin(), watched.end(), [&](const Watched& w) { return w.figure == figure; });
    return found == watched.end() ? watched.front() : *found;
}

const LadderCondition* conditionOf(const std::vector<LadderCondition>& all, std::string_view figure) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const LadderCondition& c) { return c.figure == figure; });
    return found == all.end() ? nullptr : &*found;
}

QString percent(double share) { return figure(share * 100.0, 0) + QStringLiteral(" %"); }

void addStep(PageDocument& page, const LadderStep& step, int number, const Units& units) {
    page.heading(words(QT_TRANSLATE_NOOP("pages", "%1. %2: %3"))
                     .arg(number)
                     .arg(units.text(Dimension::Speed, step.speed, 1), QString::fromStdString(step.change)));
    QString text = words(QT_TRANSLATE_NOOP("pages", "Makes it: %1, breaks a limit: %2."))
                       .arg(percent(step.targetProbability), percent(step.limitProbability));
    if (step.risky()) text += words(QT_TRANSLATE_NOOP("pages", " ▲ More than one in ten: not advised."));
    text += step.wait_s
                ? words(QT_TRANSLATE_NOOP("pages", " Wait %1 min before the next pass."))
                      .arg(figure(*step.wait_s / 60.0, 1))
                : words(QT_TRANSLATE_NOOP("pages", " No wait within an hour is long enough for a second pass."));
    page.paragraph(text);
    std::vector<QStringList> rows{
        {QString(), words(QT_TRANSLATE_NOOP("pages", "expect")), words(QT_TRANSLATE_NOOP("pages", "go on if")),
         words(QT_TRANSLATE_NOOP("pages", "stop if")), words(QT_TRANSLATE_NOOP("pages", "seen"))}};
    for (const LadderFigure& f : step.expect) {
        const auto* goOn = conditionOf(step.goOnIf, f.figure);
        const auto* stop = conditionOf(step.stopIf, f.figure);
        if (!goOn && !stop && f.figure != "zone_mean_mps") continue;
        rows.push_back({ladderFigureLabel(f.figure, units), ladderFigure(f.figure, f.mean, units),
                        goOn ? ladderCondition(*goOn, false, units) : QString(),
                        stop ? ladderCondition(*stop, true, units) : QString(), QStringLiteral("________")});
    }
    page.table(rows);
    page.checklists({{words(QT_TRANSLATE_NOOP("pages", "After it")),
                      {words(QT_TRANSLATE_NOOP("pages", "made %1")).arg(units.text(Dimension::Speed, step.speed, 1)),
                       words(QT_TRANSLATE_NOOP("pages", "every figure says go on"))}},
                     {QString(),
                      {words(QT_TRANSLATE_NOOP("pages", "tyres, mesh and pack looked at")),
                       words(QT_TRANSLATE_NOOP("pages", "a figure past its stop value ended the day"))}}});
}

} // namespace

QString ladderFigureLabel(std::string_view figure, const Units& units) {
    const Watched& w = watchedOf(figure);
    return words(w.label) + QStringLiteral(", ") + units.symbol(w.dimension);
}

QString ladderFigure(std::string_view figure, double value, const Units& units) {
    const Watched& w = watchedOf(figure);
    return units.figure(w.dimension, value, w.decimals);
}

QString ladderCondition(const LadderCondition& condition, bool stops, const Units& units) {
    const QString sign = stops ? (condition.atMost ? QStringLiteral("< ") : QStringLiteral("> "))
                               : (condition.atMost ? QStringLiteral("≤ ") : QStringLiteral("≥ "));
    return sign + ladderFigure(condition.figure, condition.value, units);
}

QString ladderBlockText(const LadderBlock& block, const Units& units) {
    const QString head = words(QT_TRANSLATE_NOOP("pages", "The ladder ends below %1: "))
                             .arg(units.text(Dimension::Speed, block.speed, 1));
    if (block.limit == "gears")
        return head + words(QT_TRANSLATE_NOOP("pages", "no pinion and spur at hand fit the mount."));
    const auto limits = limitTable();
    if (std::any_of(limits.begin(), limits.end(), [&](const LimitRow& row) { return row.name == block.limit; }))
        return head + words(QT_TRANSLATE_NOOP("pages", "the nearest try breaks %1 by %2."))
                          .arg(limitTitle(block.limit), percent(-block.margin));
    return head +
           words(QT_TRANSLATE_NOOP("pages", "the nearest try lacks %1 of it; %2."))
               .arg(percent(-block.margin), QString::fromUtf8(bindingText(block.limit).data(),
                                                              static_cast<qsizetype>(bindingText(block.limit).size())));
}

PageDocument makeLadderPage(const LadderPageHead& head, const Ladder& ladder, const Units& units) {
    PageDocument page(words(QT_TRANSLATE_NOOP("pages", "Ladder: %1")).arg(head.name));
    page.title(words(QT_TRANSLATE_NOOP("pages", "Ladder: %1, %2 to %3"))
                   .arg(head.name, units.figure(Dimension::Speed, head.proven, 1),
                        units.text(Dimension::Speed, head.target, 1)),
               head.venue);
    page.paragraph(
        words(QT_TRANSLATE_NOOP("pages", "Expect is the mean. Go on if each figure stays within its own nine in "
                                         "ten. Stop when half of what was left beyond that is gone, and find "
                                         "out why. One change at a time.")),
        true);
    int number = 0;
    for (const LadderStep& step : ladder.steps)
        addStep(page, step, ++number, units);
    if (ladder.blocked) page.paragraph(ladderBlockText(*ladder.blocked, units));
    page.heading(words(QT_TRANSLATE_NOOP("pages", "Before every step")));
    for (const QString& caution : cautionList())
        page.paragraph(caution, true);
    return page;
}

} // namespace rw
