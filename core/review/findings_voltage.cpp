// What the pack's voltage tells: sag, ripple, charge at start and end; the receiver's supply.
#include "core/review/findings.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

// The longest run of at least two samples and so many seconds under a limit.
std::optional<Rows> runUnder(const Context& context, Quantity q, Rows rows, double limit, double seconds) {
    const auto run = longestRun(context.time, rows, 2, [&](std::size_t i) { return context[q][i] < limit; });
    return run && context.time[run->last] - context.time[run->first] >= seconds - timeEpsilon ? run : std::nullopt;
}

std::size_t lowestRow(const Context& context, Quantity q, Rows rows) {
    std::size_t lowest = rows.first;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        if (context[q][i] < context[q][lowest]) lowest = i;
    return lowest;
}

void judgeSag(Context& context) {
    if (!needs(context, "sag-deep", {PackVoltage})) return;
    const ReviewThresholds& th = context.th;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (!needsCells(context, "sag-deep", pass.session)) continue;
        const int cells = *context.cells(pass.session);
        const auto act = runUnder(context, PackVoltage, context.rows(pass), th.sagAct * cells, th.sagSpan);
        const auto run =
            act ? act : runUnder(context, PackVoltage, context.rows(pass), th.sagWatch * cells, th.sagSpan);
        if (!run) continue;
        const std::size_t lowest = lowestRow(context, PackVoltage, *run);
        const double limit = act ? th.sagAct : th.sagWatch;
        reportPass(context, "sag-deep", act ? Severity::Act : Severity::Watch, p, {lowest, run->first, run->last},
                   {"Down to " + volts(context[PackVoltage][lowest] / cells) + " per cell" +
                        assuming(context, pass.session) + ", under " + volts(limit, 1) + " for " +
                        seconds(context.time[run->last] - context.time[run->first]) + ".",
                    volts(th.sagWatch, 1) + " per cell, act " + volts(th.sagAct, 1) + " (lithium polymer)"},
                   PackVoltage);
        if (!context.has(PackTemperature)) {
            cannotJudge(context, "cold-pack", {}, "the log has no pack temperature");
        } else if (pass.pack.start && *pass.pack.start < kelvinFromCelsius(th.coldPack)) {
            reportPass(context, "cold-pack", Severity::Note, p, {lowest, run->first, run->last},
                       {"The pack started at " + degrees(*pass.pack.start) + " and sagged deeply.",
                        degrees(kelvinFromCelsius(th.coldPack), 0)},
                       PackTemperature);
        }
    }
}

void judgeRipple(Context& context) {
    if (!needs(context, "ripple-high", {RippleVoltage, PackVoltage})) return;
    const ReviewThresholds& th = context.th;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const Rows rows = context.rows(context.out.passes[p]);
        const auto share = [&](std::size_t i) { return context[RippleVoltage][i] / context[PackVoltage][i]; };
        std::size_t worst = rows.first;
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            if (share(i) > share(worst) || std::isnan(share(worst))) worst = i;
        if (!(share(worst) > th.rippleWatch)) continue;
        Rows run{worst, worst};
        while (run.first > rows.first && share(run.first - 1) > th.rippleWatch)
            --run.first;
        while (run.last < rows.last && share(run.last + 1) > th.rippleWatch)
            ++run.last;
        reportPass(context, "ripple-high", share(worst) > th.rippleAct ? Severity::Act : Severity::Watch, p,
                   {worst, run.first, run.last},
                   {"Ripple of " + volts(context[RippleVoltage][worst]) + ", " + percent(share(worst), 1) +
                        " of the pack's voltage.",
                    percent(th.rippleWatch) + " of pack voltage, act " + percent(th.rippleAct)},
                   RippleVoltage);
    }
}

void judgeReceiver(Context& context) {
    if (!needs(context, "receiver-low", {ReceiverVoltage})) return;
    const ReviewThresholds& th = context.th;
    const auto voltage = context[ReceiverVoltage];
    for (std::size_t s = 0; s < context.scale.size(); ++s) {
        const Rows rows = context.scale[s].rows;
        const auto [low, high] = rangeOver(voltage, rows);
        double limit = th.receiverWatch;
        if (low < (1.0 - th.receiverDrop) * high)
            limit = std::max(limit, (1.0 - th.receiverDrop) * medianOver(voltage, rows));
        if (!(low < limit)) continue;
        const auto act = runUnder(context, ReceiverVoltage, rows, th.receiverAct, 0.0);
        const auto run = act ? act : runUnder(context, ReceiverVoltage, rows, limit, 0.0);
        if (!run) continue;
        const std::size_t lowest = lowestRow(context, ReceiverVoltage, *run);
        reportSession(context, "receiver-low", act ? Severity::Act : Severity::Watch, s,
                      {lowest, run->first, run->last},
                      {"The receiver's supply fell to " + volts(voltage[lowest]) + ".",
                       volts(th.receiverWatch, 1) + " or " + percent(th.receiverDrop) + " under its median, act " +
                           volts(th.receiverAct, 1)},
                      ReceiverVoltage);
    }
}

void judgeStartCharge(Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    if (!needsCells(context, "start-charge-low", pass.session)) return;
    const int cells = *context.cells(pass.session);
    if (!pass.restingVoltage) {
        cannotJudge(context, "start-charge-low", pass.session, "the pack was not at rest before the first pass");
        return;
    }
    if (*pass.restingVoltage / cells >= context.th.startCharge) return;
    reportPass(context, "start-charge-low", Severity::Note, p, {pass.startRow, pass.startRow, pass.startRow},
               {"The first pass began at " + volts(*pass.restingVoltage / cells) + " per cell" +
                    assuming(context, pass.session) + ".",
                volts(context.th.startCharge, 1) + " per cell"},
               PackVoltage);
}

void judgeLeftEmpty(Context& context, std::size_t s) {
    if (!needsCells(context, "left-empty", s)) return;
    const SessionScale& scale = context.scale[s];
    if (!scale.rest.at(scale.rows.last)) {
        cannotJudge(context, "left-empty", s, "the session does not end at rest");
        return;
    }
    std::size_t from = scale.rows.last;
    while (from > scale.rows.first &&
           context.time[scale.rows.last] - context.time[from - 1] <= context.th.restingSpan + timeEpsilon &&
           scale.rest.at(from - 1))
        --from;
    const double left = medianOver(context[PackVoltage], {from, scale.rows.last}) / *context.cells(s);
    if (left < context.th.leftEmpty)
        reportSession(context, "left-empty", Severity::Note, s, {scale.rows.last, from, scale.rows.last},
                      {"The session ends at rest at " + volts(left) + " per cell" + assuming(context, s) + ".",
                       volts(context.th.leftEmpty, 1) + " per cell"},
                      PackVoltage);
}

void judgeCharge(Context& context) {
    if (!needs(context, "left-empty", {PackVoltage})) return;
    for (std::size_t s = 0; s < context.scale.size(); ++s)
        judgeLeftEmpty(context, s);
    if (context.out.passes.empty() || !needs(context, "start-charge-low", {PackVoltage})) return;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p)
        if (p == 0 || context.out.passes[p - 1].session != context.out.passes[p].session) judgeStartCharge(context, p);
}

} // namespace

void judgeVoltage(Context& context) {
    judgeReceiver(context);
    judgeCharge(context);
    if (context.out.passes.empty()) return;
    judgeSag(context);
    judgeRipple(context);
}

} // namespace rw::review
