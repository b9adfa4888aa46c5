// Passes: near full throttle, under power.
#include "core/review/context.h"

#include <cmath>

namespace rw::review {

namespace {

struct Span {
    Rows rows;
    bool complete = true, cutAtStart = false;
};

// Where the throttle was held between 5 and 40 % for over a second before a rise: the last sample within 3 points of
// that level.
std::optional<std::size_t> rollingStart(const Context& context, Rows before) {
    const ReviewThresholds& th = context.th;
    const auto& pedal = context.pedal;
    SlidingRange range(pedal);
    std::size_t from = before.first;
    std::optional<Rows> held; // the last stretch that was held
    for (std::size_t i = before.first; i <= before.last; ++i) {
        range.push(i);
        while (range.range() > 2.0 * th.rollingWithin)
            range.dropBefore(++from);
        if (range.empty()) continue;
        const double middle = (range.low() + range.high()) / 2.0;
        const bool long_ = context.time[i] - context.time[from] > th.rollingSpan + timeEpsilon;
        if (long_ && middle >= th.rollingLow && middle <= th.rollingHigh) held = Rows{from, i};
    }
    if (!held) return {};
    const double level = medianOver(pedal, *held);
    for (std::size_t i = before.last + 1; i-- > held->first;)
        if (std::abs(pedal[i] - level) <= th.rollingWithin + 1e-9) return i;
    return {};
}

bool under(double value, double edge) { return value < edge; }

// From one run of near-full throttle to the whole pass.
Span spanOfRun(const Context& context, Rows part, Rows run) {
    const double edge = context.th.passEdge;
    const auto& pedal = context.pedal;
    Span span;
    std::size_t first = run.first;
    while (first > part.first && !under(pedal[first], edge))
        --first;
    span.cutAtStart = !under(pedal[first], edge);
    // Held throttle counts between the last closed sample and the run.
    if (const auto rolling = rollingStart(context, {first, run.first})) {
        first = *rolling;
        span.cutAtStart = false;
    }
    std::size_t last = run.last;
    while (last < part.last && !under(pedal[last], edge))
        ++last;
    span.complete = under(pedal[last], edge) && !span.cutAtStart;
    span.rows = {first, last};
    return span;
}

std::vector<Span> passesByPedal(const Context& context, const SessionScale& scale, std::optional<int> cells,
                                Rows part) {
    const ReviewThresholds& th = context.th;
    const auto& pedal = context.pedal;
    const bool hasPower = context.hasPower() && !std::isnan(scale.largestPower);
    const double asked = std::max(th.passThrottleShare * scale.largestThrottle, th.passThrottle);
    const double least =
        std::max(th.passPowerShare * scale.largestPower, cells ? th.passPowerPerCell * *cells : th.passPower);
    std::vector<Span> spans;
    for (std::size_t i = part.first; i <= part.last; ++i) {
        if (!(pedal[i] > asked) || (hasPower && !(context.power(i) > least))) continue;
        // Missing samples neither break a run nor begin one.
        std::size_t last = i, end = i;
        while (end < part.last) {
            ++end;
            const bool driven = !(pedal[end] <= asked), powered = !hasPower || !(context.power(end) <= least);
            if (!driven || !powered) break;
            if (!std::isnan(pedal[end])) last = end;
        }
        if (last > i && context.time[last] - context.time[i] >= th.passSpan - timeEpsilon) {
            spans.push_back(spanOfRun(context, part, {i, last}));
            i = std::max(last, spans.back().rows.last);
        } else {
            i = last;
        }
    }
    return spans;
}

std::vector<Span> passesByPower(const Context& context, const SessionScale& scale, std::optional<int> cells,
                                Rows part) {
    const ReviewThresholds& th = context.th;
    const double zero = scale.rest.zero.value_or(0.0);
    const auto power = [&](std::size_t i) {
        if (zero == 0.0 || context.has(Quantity::Power)) return context.power(i);
        return context[Quantity::PackVoltage][i] * (context[Quantity::PackCurrent][i] - zero);
    };
    const double asked = th.powerPassShare * scale.largestPower, edge = th.powerPassEdge * scale.largestPower;
    std::vector<Span> spans;
    if (!(scale.largestPower > (cells ? th.passPowerPerCell * *cells : th.passPower))) return spans;
    for (std::size_t i = part.first; i <= part.last; ++i) {
        if (!(power(i) > asked)) continue;
        std::size_t last = i;
        while (last < part.last && !(power(last + 1) <= asked))
            ++last;
        if (last > i && context.time[last] - context.time[i] >= th.passSpan - timeEpsilon) {
            Span span{{i, last}};
            while (span.rows.first > part.first && !under(power(span.rows.first), edge))
                --span.rows.first;
            while (span.rows.last < part.last && !under(power(span.rows.last), edge))
                ++span.rows.last;
            span.cutAtStart = !under(power(span.rows.first), edge);
            span.complete = !span.cutAtStart && under(power(span.rows.last), edge);
            spans.push_back(span);
            last = std::max(last, span.rows.last);
        }
        i = last;
    }
    return spans;
}

void joinClose(const Context& context, std::vector<Span>& spans) {
    std::vector<Span> joined;
    for (const Span& span : spans) {
        if (!joined.empty() &&
            context.time[span.rows.first] - context.time[joined.back().rows.last] < context.th.passJoin - timeEpsilon) {
            joined.back().rows.last = std::max(joined.back().rows.last, span.rows.last);
            joined.back().complete = !joined.back().cutAtStart && span.complete;
        } else {
            joined.push_back(span);
        }
    }
    spans = std::move(joined);
}

Rows rowsOfLines(const Log& log, LineSpan lines) {
    const auto first = std::ranges::lower_bound(log.line, lines.first);
    const auto last = std::ranges::upper_bound(log.line, lines.last);
    return {static_cast<std::size_t>(first - log.line.begin()),
            static_cast<std::size_t>(last - log.line.begin())}; // last is one past
}

void applyEdits(Context& context, std::vector<std::vector<Span>>& sessions) {
    const ReviewEdits& edits = context.options.edits;
    const auto drop = [&](LineSpan lines) {
        const Rows gone = rowsOfLines(context.log, lines);
        std::vector<Span>* home = nullptr;
        std::size_t index = 0, most = 0;
        for (auto& spans : sessions)
            for (std::size_t k = 0; k < spans.size(); ++k) {
                const std::size_t from = std::max(spans[k].rows.first, gone.first),
                                  to = std::min(spans[k].rows.last + 1, gone.last);
                if (to > from && to - from > most) most = to - from, home = &spans, index = k;
            }
        if (home) home->erase(home->begin() + static_cast<std::ptrdiff_t>(index));
    };
    const auto put = [&](LineSpan lines) {
        Rows rows = rowsOfLines(context.log, lines);
        if (rows.first >= context.log.rows() || rows.last <= rows.first) return;
        --rows.last;
        for (std::size_t s = 0; s < sessions.size(); ++s) {
            if (!context.scale[s].rows.holds(rows.first)) continue;
            rows.last = std::min(rows.last, context.scale[s].rows.last);
            // Passes never overlap: a hand-made one takes the place of those that it touches.
            std::erase_if(sessions[s],
                          [&](const Span& span) { return span.rows.first < rows.last && rows.first < span.rows.last; });
            sessions[s].push_back({rows});
            std::ranges::sort(sessions[s], [](const Span& a, const Span& b) { return a.rows.first < b.rows.first; });
        }
    };
    for (const LineSpan& lines : edits.removedPasses)
        drop(lines);
    for (const auto& moved : edits.movedPasses) {
        drop(moved.from);
        put(moved.to);
    }
    for (const LineSpan& lines : edits.addedPasses)
        put(lines);
}

// What ended a pass before its throttle closed, or hid its start.
ReviewPass::Cut cutBy(const Context& context, std::size_t session, const Span& span) {
    using Cut = ReviewPass::Cut;
    if (span.complete) return Cut::None;
    const auto& restarts = context.out.sessions[session].restarts;
    const std::size_t next = span.cutAtStart ? span.rows.first : span.rows.last + 1;
    if (std::ranges::find(restarts, next) != restarts.end()) return Cut::Restart;
    if (span.cutAtStart) return Cut::SessionStart;
    return session + 1 == context.scale.size() ? Cut::LogEnd : Cut::SessionEnd;
}

} // namespace

void cutPasses(Context& context) {
    std::vector<std::vector<Span>> sessions(context.scale.size());
    for (std::size_t s = 0; s < context.scale.size(); ++s) {
        const SessionScale& scale = context.scale[s];
        for (const Rows part : scale.parts) {
            std::vector<Span> spans;
            if (!context.pedal.empty())
                spans = passesByPedal(context, scale, context.cells(s), part);
            else if (context.hasPower())
                spans = passesByPower(context, scale, context.cells(s), part);
            joinClose(context, spans);
            sessions[s].insert(sessions[s].end(), spans.begin(), spans.end());
        }
        context.poll();
    }
    applyEdits(context, sessions);
    for (std::size_t s = 0; s < sessions.size(); ++s)
        for (const Span& span : sessions[s]) {
            ReviewPass pass;
            pass.session = s;
            pass.startRow = span.rows.first;
            pass.endRow = span.rows.last;
            pass.start = context.since(s, span.rows.first);
            pass.end = context.since(s, span.rows.last);
            pass.complete = span.complete;
            pass.cutAtStart = span.cutAtStart;
            pass.cutBy = cutBy(context, s, span);
            context.out.passes.push_back(pass);
        }
}

} // namespace rw::review
