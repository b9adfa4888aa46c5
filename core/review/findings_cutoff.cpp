// What is said of the low-voltage cutoff: that it took power, or that it is not what was told.
#include "core/review/findings.h"

namespace rw::review {

namespace {

using enum Quantity;

double secondsOf(const Context& context, Rows rows) { return context.time[rows.last] - context.time[rows.first]; }

Sentence taken(const CutSpan& span) {
    switch (span.of) {
    case CutSpan::Of::Output:
        return ", the output fell from " + percent(span.stood) + " to " + percent(span.low) + " at open throttle";
    case CutSpan::Of::Current:
        return ", the current fell from " + amperes(span.stood, 0) + " to " + amperes(span.low, 0) +
               " at open throttle";
    case CutSpan::Of::Held:
        return ", the output was held down to " + percent(span.low) + " at full throttle";
    }
    return {};
}

Sentence costText(const Context& context, std::size_t pass) {
    const auto cost = costOfCutoff(context, pass);
    if (!cost || !cost->without) return {};
    const std::string by = context.taught() ? " By what logs taught " : " By the plan ";
    if (!cost->with)
        return by + "the car does not get through the zone with it, without it at " + speedOf(*cost->without) + ".";
    constexpr double least = 0.05; // m/s: less is none
    const double lost = *cost->without - *cost->with;
    if (lost >= least) return by + "that cost " + speedOf(lost) + " through the zone.";
    if (cost->foreseen) return by + "that cost nothing through the zone.";
    return std::string(context.taught() ? " What logs taught did" : " The plan did") +
           " not foresee it: without it the zone is planned at " + speedOf(*cost->without) + ".";
}

Sentence thresholdOf(const Context& context, std::size_t session, const CutSpan& span) {
    const ReviewThresholds& th = context.th;
    const bool byCurrent = span.of == CutSpan::Of::Current;
    const bool blind =
        byCurrent && !(context.has(MotorSpeed) && context.log[MotorSpeed].interval_s <= th.cutoffSpeedInterval);
    const Sentence fall = byCurrent ? "current falls by " + percent(blind          ? th.cutoffBlindFall
                                                                    : span.guessed ? th.cutoffUnknownCurrentFall
                                                                                   : th.cutoffCurrentFall)
                                    : "output falls by " + percent(span.guessed ? th.cutoffUnknownFall : th.cutoffFall);
    const Sentence within = " within " + seconds(blind ? th.cutoffBlindWithin : th.cutoffFallWithin, 1);
    if (span.guessed)
        return fall + within + " under " + volts(th.cutoffUnknownVoltage, 1) + " per cell; the cutoff is not known";
    return "cutoff " + volts(*context.cutoff(session)) + " per cell: " + fall + within + " from at most " +
           volts(th.cutoffNear, 1) + " over it, or voltage lies at it for " + seconds(th.cutoffLiesSpan, 1);
}

void reportCut(Context& context, std::size_t p, const CutSpan& span, bool first) {
    const std::size_t session = context.out.passes[p].session;
    const int cells = *context.cells(session);
    const auto voltage = context[PackVoltage];
    // Where it stood when the power went; the lowest of what was held.
    std::size_t at = span.rows.first;
    for (std::size_t i = at; i <= span.rows.last; ++i) {
        const bool fell = span.of != CutSpan::Of::Held && i > span.rows.first + 1;
        if (!fell && voltage[i] < voltage[at]) at = i;
    }
    Sentence seen = "From " + volts(voltage[at] / cells) + " per cell" + assuming(context, session) + taken(span);
    seen += span.hard ? "; the power was cut for " : "; the power was held back for ";
    seen += seconds(secondsOf(context, span.rows)) + ".";
    if (first) seen += costText(context, p);
    const Severity severity = span.hard ? (span.guessed ? Severity::Watch : Severity::Act)
                                        : (span.guessed ? Severity::Note : Severity::Watch);
    reportPass(context, "cutoff-acted", severity, p, {at, span.rows.first, span.rows.last},
               {seen, thresholdOf(context, session, span)}, PackVoltage);
}

// Well under the cutoff at full throttle, and nothing was taken: it is not what was told.
void judgePassed(Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto cutoff = context.cutoff(pass.session);
    if (!cutoff || !context.cut[p].empty()) return;
    const int cells = *context.cells(pass.session);
    const auto voltage = context[PackVoltage], throttle = context[Throttle];
    const auto longest = longestRun(context.time, context.rows(pass), 1, [&](std::size_t i) {
        return voltage[i] < (*cutoff - th.cutoffPassed) * cells - 1e-9 && throttle[i] >= th.fullThrottle - 1e-9;
    });
    if (!longest || secondsOf(context, *longest) < th.cutoffPassedSpan - timeEpsilon) return;
    std::size_t lowest = longest->first;
    for (std::size_t i = longest->first; i <= longest->last; ++i)
        if (voltage[i] < voltage[lowest]) lowest = i;
    reportPass(context, "cutoff-passed", Severity::Note, p, {lowest, longest->first, longest->last},
               {"Down to " + volts(voltage[lowest] / cells) + " per cell" + assuming(context, pass.session) +
                    " at full throttle, under the cutoff of " + volts(*cutoff) + " for " +
                    seconds(secondsOf(context, *longest)) + ", and no power was taken.",
                volts(th.cutoffPassed) + " per cell under the cutoff for " + seconds(th.cutoffPassedSpan, 0)},
               PackVoltage);
}

} // namespace

void judgeCutoff(Context& context) {
    if (context.out.passes.empty()) return;
    const bool seen = context.has(Output) || context.has(PackCurrent);
    for (const std::string_view id : {"cutoff-acted", "cutoff-passed"}) {
        // An untold cutoff leaves nothing to be passed.
        if (id == "cutoff-passed" && !context.out.cutoffCell) continue;
        const bool judged = needs(context, id, {PackVoltage, Throttle});
        if (judged && !seen) cannotJudge(context, id, {}, "the log has neither output nor pack current");
        if (!judged || !seen) continue;
        for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
            if (!needsCells(context, id, context.out.passes[p].session)) continue;
            if (id == "cutoff-passed")
                judgePassed(context, p);
            else
                for (std::size_t k = 0; k < context.cut[p].size(); ++k)
                    reportCut(context, p, context.cut[p][k], k == 0);
        }
    }
}

} // namespace rw::review
