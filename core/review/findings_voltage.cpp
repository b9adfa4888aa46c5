// What the pack's voltage tells: cutoff, sag, ripple, charge at start and end; the receiver's supply.
#include "core/review/findings.h"
#include "core/review/levels.h"
#include "core/review/planned.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

// A fall of the output within a second while the throttle does not fall, and how it ends.
struct Fall {
    Rows rows;
    double depth = 0.0;
};

class FallFinder {
public:
    FallFinder(const Context& context, Rows rows)
        : context_(context)
        , rows_(rows)
        , output_(context[Output])
        , throttle_(context[Throttle]) {}

    // Falls of at least `least`; accept(rows from the last high sample to the first low one) decides.
    template<class Accept>
    std::vector<Fall> find(double least, Accept accept) const {
        const ReviewThresholds& th = context_.th;
        std::vector<Fall> falls;
        SlidingRange output(output_), throttle(throttle_);
        std::size_t from = rows_.first;
        for (std::size_t i = rows_.first; i <= rows_.last; ++i) {
            output.push(i);
            throttle.push(i);
            // A throttle that rises meanwhile asks for no less either.
            while (context_.time[i] - context_.time[from] > th.cutoffFallWithin + timeEpsilon ||
                   (!throttle.empty() && throttle.high() - throttle_[i] > th.cutoffThrottle + 1e-9)) {
                ++from;
                output.dropBefore(from);
                throttle.dropBefore(from);
            }
            if (output.empty() || !(output.high() - output_[i] >= least - 1e-9)) continue;
            const double high = output.high();
            std::size_t onset = i;
            while (onset > from && !(output_[onset] >= high - 0.01))
                --onset;
            if (!accept(Rows{onset, i})) continue;
            const Fall fall = follow(onset, i, high);
            falls.push_back(fall);
            output.clear();
            throttle.clear();
            i = fall.rows.last;
            from = i + 1;
        }
        return falls;
    }

private:
    // On until the output is back, or the throttle moves, or the pass ends.
    [[nodiscard]] Fall follow(std::size_t onset, std::size_t low, double high) const {
        Fall fall{{onset, low}, high - output_[low]};
        double asked = throttle_[onset];
        while (fall.rows.last < rows_.last) {
            const std::size_t next = fall.rows.last + 1;
            if (throttle_[next] < asked - context_.th.cutoffThrottle - 1e-9 ||
                output_[next] > high - context_.th.cutoffFall / 2.0)
                break;
            asked = std::max(asked, throttle_[next]);
            if (!std::isnan(output_[next])) fall.depth = std::max(fall.depth, high - output_[next]);
            fall.rows.last = next;
        }
        return fall;
    }

    const Context& context_;
    Rows rows_;
    std::span<const double> output_, throttle_;
};

double lowestVoltage(const Context& context, Rows rows) {
    double low = std::numeric_limits<double>::infinity();
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        low = std::min(low, std::isnan(context[PackVoltage][i]) ? low : context[PackVoltage][i]);
    return low;
}

bool powerGone(const Context& context, const ReviewPass& pass, Rows rows) {
    if (context.has(Output) && context.has(Throttle)) {
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            if (context[Output][i] <= context.th.cutoffHardOutput && context[Throttle][i] > context.th.passThrottle)
                return true;
        return false;
    }
    if (!context.has(Throttle) || !context.has(PackCurrent)) return false;
    for (std::size_t i = rows.first; i <= std::min(rows.last + 1, pass.endRow); ++i)
        if (context[Throttle][i] > context.th.passThrottle && context.scale[pass.session].rest.at(i)) return true;
    return false;
}

std::vector<CutSpan> knownCutoff(const Context& context, const ReviewPass& pass, double cutoff, int cells) {
    const ReviewThresholds& th = context.th;
    const auto voltage = context[PackVoltage];
    const Rows rows = context.rows(pass);
    const double limit = cutoff * cells, near = th.cutoffNear * cells;
    std::vector<CutSpan> spans;
    forEachRun(
        rows, [&](std::size_t i) { return voltage[i] <= limit + 1e-9; },
        [&](Rows run) {
            if (run.count() >= 2 && context.time[run.last] - context.time[run.first] >= th.cutoffSpan - timeEpsilon)
                spans.push_back({run});
        });
    if (context.has(Output) && context.has(Throttle)) {
        const auto falls = FallFinder(context, rows).find(th.cutoffFall, [&](Rows fall) {
            return lowestVoltage(context, fall) <= limit + near + 1e-9;
        });
        for (const Fall& fall : falls)
            spans.push_back({fall.rows, false, false, fall.depth});
    }
    std::sort(spans.begin(), spans.end(),
              [](const CutSpan& a, const CutSpan& b) { return a.rows.first < b.rows.first; });
    std::vector<CutSpan> joined;
    for (const CutSpan& span : spans) {
        if (!joined.empty() && context.time[span.rows.first] - context.time[joined.back().rows.last] <= th.cutoffSpan) {
            joined.back().rows.last = std::max(joined.back().rows.last, span.rows.last);
            joined.back().fall = std::max(joined.back().fall, span.fall);
        } else {
            joined.push_back(span);
        }
    }
    for (CutSpan& span : joined)
        span.hard = powerGone(context, pass, span.rows);
    return joined;
}

// Nobody told the cutoff: a clear fall at steady throttle, voltage low and no longer falling, nothing hot.
std::vector<CutSpan> guessedCutoff(const Context& context, const ReviewPass& pass, int cells) {
    const ReviewThresholds& th = context.th;
    if (!context.has(Output) || !context.has(Throttle)) return {};
    const auto hot = [&](Quantity q, double comfort, std::size_t i) {
        return context.has(q) && context[q][i] >= kelvinFromCelsius(comfort);
    };
    std::vector<CutSpan> spans;
    const auto accept = [&](Rows fall) {
        return lowestVoltage(context, fall) < th.cutoffUnknownVoltage * cells &&
               !hot(ControllerTemperature, context.limits.controller.comfort_C, fall.last) &&
               !hot(MotorTemperature, context.limits.motor.comfort_C, fall.last);
    };
    for (const Fall& fall : FallFinder(context, context.rows(pass)).find(th.cutoffUnknownFall, accept)) {
        const std::size_t settled = rowAt(context.time, fall.rows, context.time[fall.rows.first] + th.cutoffFallWithin);
        if (settled <= fall.rows.last) {
            const double before = lowestVoltage(context, {fall.rows.first, settled});
            if (lowestVoltage(context, {settled, fall.rows.last}) < before - th.cutoffNear * cells)
                continue; // it falls on: no cutoff held it
        }
        spans.push_back({fall.rows, powerGone(context, pass, fall.rows), true, fall.depth});
    }
    return spans;
}

void judgeCutoff(Context& context) {
    if (!needs(context, "cutoff-acted", {PackVoltage})) return;
    if (!context.out.cutoffCell && !(context.has(Output) && context.has(Throttle)))
        cannotJudge(context, "cutoff-acted", {},
                    "the cutoff is not known (tell it with --cutoff or a plan), and the log lacks throttle or output");
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const std::size_t session = context.out.passes[p].session;
        if (!needsCells(context, "cutoff-acted", session)) continue;
        const int cells = *context.cells(session);
        for (const CutSpan& span : context.cut[p]) {
            const double seconds = context.time[span.rows.last] - context.time[span.rows.first];
            std::size_t lowest = span.rows.first;
            for (std::size_t i = span.rows.first; i <= span.rows.last; ++i)
                if (!(context[PackVoltage][i] >= context[PackVoltage][lowest]))
                    lowest = std::isnan(context[PackVoltage][i]) ? lowest : i;
            std::string seen = "Voltage fell to " + number(context[PackVoltage][lowest] / cells, 2) + " V per cell" +
                               assuming(context, session);
            if (span.fall > 0.0) seen += ", the output fell by " + percent(span.fall) + " at open throttle";
            seen += span.hard ? "; the power was cut for " : "; the power was held back for ";
            seen += number(seconds, 2) + " s.";
            if (const auto lost = speedLostToCutoff(context, p))
                seen += " By the plan that cost " + number(*lost, 1) + " m/s through the zone.";
            const std::string threshold =
                span.guessed
                    ? "output falls by " + percent(context.th.cutoffUnknownFall) + " below " +
                          number(context.th.cutoffUnknownVoltage, 1) + " V per cell; the cutoff is not known"
                    : number(*context.out.cutoffCell, 2) + " V per cell for " + number(context.th.cutoffSpan, 1) +
                          " s, or the output falls by " + percent(context.th.cutoffFall) + " near it";
            const Severity severity = span.guessed ? Severity::Note : span.hard ? Severity::Act : Severity::Watch;
            reportPass(context, "cutoff-acted", severity, p, {lowest, span.rows.first, span.rows.last},
                       {seen, threshold}, PackVoltage);
        }
    }
}

// The longest run of at least two samples and 0.1 s under a limit; count() 0 where there is none.
std::optional<Rows> runUnder(const Context& context, Quantity q, Rows rows, double limit, double seconds) {
    std::optional<Rows> best;
    forEachRun(
        rows, [&](std::size_t i) { return context[q][i] < limit; },
        [&](Rows run) {
            const double span = context.time[run.last] - context.time[run.first];
            if (run.count() < 2 || span < seconds - timeEpsilon) return;
            if (!best || span > context.time[best->last] - context.time[best->first]) best = run;
        });
    return best;
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
                   {"Down to " + number(context[PackVoltage][lowest] / cells, 2) + " V per cell" +
                        assuming(context, pass.session) + ", under " + number(limit, 1) + " V for " +
                        number(context.time[run->last] - context.time[run->first], 2) + " s.",
                    number(th.sagWatch, 1) + " V per cell, act " + number(th.sagAct, 1) + " V (lithium polymer)"},
                   PackVoltage);
        if (!context.has(PackTemperature)) {
            cannotJudge(context, "cold-pack", {}, "the log has no pack temperature");
        } else if (pass.pack.start && *pass.pack.start < kelvinFromCelsius(th.coldPack)) {
            reportPass(context, "cold-pack", Severity::Note, p, {lowest, run->first, run->last},
                       {"The pack started at " + celsius(*pass.pack.start) + " and sagged deeply.",
                        number(th.coldPack, 0) + " °C"},
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
                   {"Ripple of " + number(context[RippleVoltage][worst], 2) + " V, " + percent(share(worst), 1) +
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
        double low = std::numeric_limits<double>::infinity(), high = -low;
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            low = std::min(low, std::isnan(voltage[i]) ? low : voltage[i]),
            high = std::max(high, std::isnan(voltage[i]) ? high : voltage[i]);
        double limit = th.receiverWatch;
        if (low < (1.0 - th.receiverDrop) * high) {
            std::vector<double> scratch;
            limit = std::max(limit,
                             (1.0 - th.receiverDrop) * medianWhere(
                                                           voltage, rows, [](std::size_t) { return true; }, scratch));
        }
        if (!(low < limit)) continue;
        const auto act = runUnder(context, ReceiverVoltage, rows, th.receiverAct, 0.0);
        const auto run = act ? act : runUnder(context, ReceiverVoltage, rows, limit, 0.0);
        if (!run) continue;
        const std::size_t lowest = lowestRow(context, ReceiverVoltage, *run);
        reportSession(context, "receiver-low", act ? Severity::Act : Severity::Watch, s,
                      {lowest, run->first, run->last},
                      {"The receiver's supply fell to " + number(voltage[lowest], 2) + " V.",
                       number(th.receiverWatch, 1) + " V or " + percent(th.receiverDrop) + " under its median, act " +
                           number(th.receiverAct, 1) + " V"},
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
               {"The first pass began at " + number(*pass.restingVoltage / cells, 2) + " V per cell" +
                    assuming(context, pass.session) + ".",
                number(context.th.startCharge, 1) + " V per cell"},
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
    std::vector<double> scratch;
    const double left = medianWhere(
                            context[PackVoltage], {from, scale.rows.last}, [](std::size_t) { return true; }, scratch) /
                        *context.cells(s);
    if (left < context.th.leftEmpty)
        reportSession(context, "left-empty", Severity::Note, s, {scale.rows.last, from, scale.rows.last},
                      {"The session ends at rest at " + number(left, 2) + " V per cell" + assuming(context, s) + ".",
                       number(context.th.leftEmpty, 1) + " V per cell"},
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

void findCutoffSpans(Context& context) {
    context.cut.assign(context.out.passes.size(), {});
    if (!context.has(PackVoltage)) return;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (const auto cells = context.cells(pass.session))
            context.cut[p] = context.out.cutoffCell ? knownCutoff(context, pass, *context.out.cutoffCell, *cells)
                                                    : guessedCutoff(context, pass, *cells);
    }
}

void judgeVoltage(Context& context) {
    judgeReceiver(context);
    judgeCharge(context);
    if (context.out.passes.empty()) return;
    judgeCutoff(context);
    judgeSag(context);
    judgeRipple(context);
}

} // namespace rw::review
