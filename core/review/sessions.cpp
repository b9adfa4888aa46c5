// Sessions: one pack connected once.
#include "core/error.h"
#include "core/log/integrals.h"
#include "core/parallel.h"
#include "core/review/cells.h"
#include "core/review/context.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

struct Start {
    std::size_t row = 0;
    bool byHand = false;
};

// Rules a, b, c: what the stamps, the text and the marks say.
std::vector<std::size_t> hardStarts(const Context& context) {
    const Log& log = context.log;
    const ReviewThresholds& th = context.th;
    std::vector<std::size_t> starts;
    for (std::size_t i = 1; i < log.rows(); ++i)
        if (log.time[i] - log.time[i - 1] < -th.sessionStepBack) starts.push_back(i);
    for (const RowMark& mark : log.marks) {
        if (mark.row == 0 || mark.row >= log.rows()) continue;
        const double step = log.time[mark.row] - log.time[mark.row - 1];
        const bool header = mark.kind == RowMark::Kind::HeaderRepeated && (step < 0.0 || step > th.sessionJump);
        if (header || mark.kind == RowMark::Kind::ColumnsChanged) starts.push_back(mark.row);
    }
    if (const auto marks = context[SessionMark]; !marks.empty()) {
        double current = nan;
        for (std::size_t i = 0; i < marks.size(); ++i) {
            if (std::isnan(marks[i])) continue;
            if (!std::isnan(current) && marks[i] != current) starts.push_back(i);
            current = marks[i];
        }
    }
    if (const auto events = context[EventMark]; !events.empty())
        for (std::size_t i = 1; i < events.size(); ++i)
            if (events[i] == 1.0 && events[i - 1] != 1.0) starts.push_back(i);
    std::ranges::sort(starts);
    starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
    return starts;
}

// Median voltage at rest over up to two seconds that end before, or begin at, a row; NaN if it was not at rest there.
double restingBefore(const Context& context, const RestRule& rest, Rows rows, std::size_t row) {
    std::size_t first = row - 1;
    const auto& time = context.log.time;
    while (first > rows.first && time[row - 1] - time[first - 1] <= context.th.sessionMedianSpan + timeEpsilon)
        --first;
    return medianWhere(context[PackVoltage], {first, row - 1}, [&](std::size_t i) { return rest.at(i); });
}
double restingAfter(const Context& context, const RestRule& rest, Rows rows, std::size_t row) {
    std::size_t last = row;
    const auto& time = context.log.time;
    while (last < rows.last && time[last + 1] - time[row] <= context.th.sessionMedianSpan + timeEpsilon)
        ++last;
    return medianWhere(context[PackVoltage], {row, last}, [&](std::size_t i) { return rest.at(i); });
}

// Cells to scale volts per cell by, as good as known so far.
double cellsForScale(const Context& context, std::size_t session, Rows rows, const RestRule& rest) {
    const auto voltage = firstRestingVoltage(context, rows, rest);
    const auto& told = context.options.cells;
    if (!told.empty()) return told[std::min(session, told.size() - 1)];
    const CellCount count = countCells(context, session, 0, voltage);
    if (count.cells) return *count.cells;
    if (!count.candidates.empty()) return count.candidates.front();
    constexpr double usualCell = 3.85; // V at rest, half full
    return voltage ? std::max(1.0, std::round(*voltage / usualCell)) : 1.0;
}

// Rule d: a jump of the clock with a resting voltage that no single pack shows.
bool packChangedOverJump(const Context& context, const RestRule& rest, Rows rows, std::size_t row, double cells) {
    const double before = restingBefore(context, rest, rows, row), after = restingAfter(context, rest, rows, row);
    if (std::isnan(before) || std::isnan(after)) return false;
    const auto& time = context.log.time;
    std::size_t load = row; // one past the last row under load
    while (load > rows.first && time[row - 1] - time[load - 1] < context.th.sessionRecovery && rest.at(load - 1))
        --load;
    const bool recovering =
        load > rows.first && !rest.at(load - 1) && time[row - 1] - time[load - 1] < context.th.sessionRecovery;
    const double rise = (after - before) / cells;
    return rise > (recovering ? context.th.sessionRiseRecovering : context.th.sessionRise) ||
           rise < -context.th.sessionFall;
}

// A stretch at rest with the throttle closed, that ends at (or begins with) a row and goes on for up to two seconds.
double stillMedian(const Context& context, const RestRule& rest, Rows rows, std::size_t row, bool backwards) {
    const auto& time = context.log.time;
    const auto voltage = context[PackVoltage];
    const auto still = [&](std::size_t i) {
        return rest.at(i) && (context.pedal.empty() || !(context.pedal[i] >= context.th.restThrottle));
    };
    std::vector<double> scratch;
    double span = 0.0;
    for (std::size_t i = row;; backwards ? --i : ++i) {
        if (!still(i) || std::abs(time[i] - time[row]) > context.th.sessionMedianSpan + timeEpsilon) break;
        span = std::abs(time[i] - time[row]);
        if (!std::isnan(voltage[i])) scratch.push_back(voltage[i]);
        if (i == (backwards ? rows.first : rows.last)) break;
    }
    constexpr std::size_t leastSamples = 3;
    if (span < context.th.sessionStretch - timeEpsilon || scratch.size() < leastSamples) return nan;
    return medianOf(scratch);
}

// Rule e: another pack from one sample to the next.
bool packChangedAtOnce(const Context& context, const RestRule& rest, Rows rows, std::size_t row, double cells) {
    const double before = stillMedian(context, rest, rows, row - 1, true),
                 after = stillMedian(context, rest, rows, row, false);
    return std::abs(after - before) > context.th.sessionStep * cells; // false for NaN
}

// Rules d and e within rows that stamps and text do not part.
void addSoftStarts(const Context& context, Rows rows, std::vector<std::size_t>& starts) {
    const auto voltage = context[PackVoltage];
    if (voltage.empty()) return;
    const RestRule rest = restRule(context, rows);
    const auto& time = context.log.time;
    std::size_t from = rows.first;
    std::optional<double> cells;
    const auto scaleBy = [&] {
        if (!cells) cells = cellsForScale(context, starts.size(), {from, rows.last}, rest);
        return *cells;
    };
    for (std::size_t i = rows.first + 1; i <= rows.last; ++i) {
        const bool jump = time[i] - time[i - 1] > context.th.sessionJump;
        const bool step = std::abs(voltage[i] - voltage[i - 1]) > context.th.sessionStep;
        if (!jump && !step) continue;
        const bool startsHere = jump ? packChangedOverJump(context, rest, {from, rows.last}, i, scaleBy())
                                     : std::abs(voltage[i] - voltage[i - 1]) > context.th.sessionStep * scaleBy() &&
                                           packChangedAtOnce(context, rest, {from, rows.last}, i, scaleBy());
        if (!startsHere) continue;
        starts.push_back(i);
        from = i;
        cells.reset();
    }
}

std::size_t rowOfLine(const Log& log, std::uint32_t line) {
    return static_cast<std::size_t>(std::ranges::lower_bound(log.line, line) - log.line.begin());
}

void applyEdits(const Context& context, std::vector<Start>& starts) {
    const ReviewEdits& edits = context.options.edits;
    const auto at = [&](std::uint32_t line) { return rowOfLine(context.log, line); };
    const auto drop = [&](std::size_t row) {
        std::erase_if(starts, [&](const Start& s) { return s.row == row && row != 0; });
    };
    const auto put = [&](std::size_t row) {
        if (row == 0 || row >= context.log.rows()) return;
        drop(row);
        starts.push_back({row, true});
    };
    for (const std::uint32_t line : edits.removedSessions)
        drop(at(line));
    for (const auto& moved : edits.movedSessions) {
        drop(at(moved.from));
        put(at(moved.to));
    }
    for (const std::uint32_t line : edits.addedSessions)
        put(at(line));
    std::ranges::sort(starts, {}, &Start::row);
}

bool turning(const Context& context, std::size_t row) {
    return context.has(MotorSpeed) && context[MotorSpeed][row] > context.th.motorTurning;
}

// The controller went out and came back under way: no new session.
bool restarted(const Context& context, Rows before, Rows after) {
    const std::size_t last = before.last, next = after.first;
    const bool driven = (!context.pedal.empty() && context.pedal[last] > context.th.passEdge) || turning(context, last);
    const std::size_t soon = rowAt(context.log.time, after, context.log.time[next] + context.th.restingSpan);
    bool stillTurning = false;
    for (std::size_t i = next; i < std::max(soon, next + 1); ++i)
        stillTurning |= turning(context, i);
    if (!driven || !stillTurning) return false;
    if (context.log.time[next] - context.log.time[last] > context.th.restartWithin) return false;
    const auto count = [&](Rows rows) {
        return cellsFromVoltage(context, firstRestingVoltage(context, rows, restRule(context, rows)));
    };
    if (!context.options.cells.empty()) return true;
    const CellCount a = count(before), b = count(after);
    if (a.cells && b.cells) return *a.cells == *b.cells;
    if (a.candidates.empty() || b.candidates.empty()) return true; // never at rest: nothing speaks against one pack
    return std::ranges::find_first_of(a.candidates, b.candidates) != a.candidates.end();
}

// The log-wide axis: the log's own stamps where they only grow, else a stated pause after what came before.
void layAxis(Context& context, const std::vector<Start>& starts) {
    const Log& log = context.log;
    if (std::ranges::is_sorted(log.time)) return;
    context.out.time.resize(log.rows());
    double shift = 0.0;
    std::size_t start = 0;
    for (std::size_t i = 0; i < log.rows(); ++i) {
        while (start < starts.size() && starts[start].row < i)
            ++start;
        if (i > 0 && log.time[i] < log.time[i - 1]) {
            const bool session = start < starts.size() && starts[start].row == i;
            shift =
                context.out.time[i - 1] + (session ? context.th.sessionSpacing : context.th.restartGap) - log.time[i];
        }
        context.out.time[i] = log.time[i] + shift;
    }
    context.time = context.out.time;
}

void addSession(Context& context, Rows rows) {
    ReviewSession session;
    session.startRow = rows.first;
    session.endRow = rows.last;
    session.startLine = context.log.line[rows.first];
    session.endLine = context.log.line[rows.last];
    session.logStart = context.time[rows.first];
    session.duration = context.time[rows.last] - context.time[rows.first];
    context.out.sessions.push_back(session);
}

SessionScale scaleOf(const Context& context, const ReviewSession& session) {
    SessionScale scale;
    scale.rows = {session.startRow, session.endRow};
    scale.medianStep = medianStep(context.time.subspan(scale.rows.first, scale.rows.count()));
    scale.gapLimit = gapLimit(scale.medianStep);
    scale.rest = restRule(context, scale.rows);
    TopQuantile throttle(scale.rows.count(), context.th.largestQuantile),
        power(scale.rows.count(), context.th.largestQuantile);
    if (!context.pedal.empty())
        for (std::size_t i = scale.rows.first; i <= scale.rows.last; ++i)
            throttle.add(context.pedal[i]);
    if (context.hasPower())
        for (std::size_t i = scale.rows.first; i <= scale.rows.last; ++i)
            power.add(context.power(i));
    scale.largestThrottle = throttle.value();
    scale.largestPower = power.value();
    std::size_t from = scale.rows.first;
    for (const std::size_t row : session.restarts) {
        scale.parts.push_back({from, row - 1});
        from = row;
    }
    scale.parts.push_back({from, scale.rows.last});
    return scale;
}

} // namespace

void cutSessions(Context& context) {
    const std::size_t rows = context.log.rows();
    std::vector<std::size_t> hard = hardStarts(context), found;
    hard.push_back(rows);
    std::vector<std::pair<Rows, RestRule>> rulesOf(hard.size());
    parallelFor(context.threads, hard.size(), [&](std::size_t k, bool) {
        const Rows stretch{k == 0 ? 0 : hard[k - 1], hard[k] - 1};
        rulesOf[k] = {stretch, restRule(context, stretch)};
    });
    context.rules = std::move(rulesOf);
    for (std::size_t k = 0, first = 0; k < hard.size(); first = hard[k++]) {
        if (first > 0) found.push_back(first);
        addSoftStarts(context, {first, hard[k] - 1}, found);
        context.poll();
    }
    std::vector<Start> starts;
    std::vector<std::size_t> restarts;
    for (std::size_t k = 0, first = 0; k < found.size(); ++k) {
        const std::size_t end = k + 1 < found.size() ? found[k + 1] - 1 : rows - 1;
        if (restarted(context, {first, found[k] - 1}, {found[k], end}))
            restarts.push_back(found[k]);
        else
            starts.push_back({found[k], false});
        first = found[k];
    }
    applyEdits(context, starts);
    layAxis(context, starts);
    for (std::size_t k = 0, first = 0; k <= starts.size(); ++k) {
        const std::size_t next = k < starts.size() ? starts[k].row : rows;
        addSession(context, {first, next - 1});
        for (const std::size_t row : restarts)
            if (first < row && row < next) context.out.sessions.back().restarts.push_back(row);
        first = next;
    }
    const std::size_t sessions = context.out.sessions.size();
    if (context.options.cells.size() > 1 && context.options.cells.size() != sessions)
        throw InputError(context.log.file, "the log has " + std::to_string(sessions) +
                                               (sessions == 1 ? " session but " : " sessions but ") +
                                               std::to_string(context.options.cells.size()) +
                                               " cell counts were given; give one for all, or one for each");
}

void measureSessions(Context& context) {
    auto& sessions = context.out.sessions;
    context.scale.assign(sessions.size(), {});
    parallelFor(context.threads, sessions.size(),
                [&](std::size_t s, bool) { context.scale[s] = scaleOf(context, sessions[s]); });
    for (std::size_t s = 0; s < sessions.size(); ++s) {
        SessionScale& scale = context.scale[s];
        ReviewSession& session = sessions[s];
        const CellCount count =
            countCells(context, s, sessions.size(), firstRestingVoltage(context, scale.rows, scale.rest));
        session.cells = count.cells;
        session.cellsSure = count.sure;
        session.cellCandidates = count.candidates;
        session.restingVoltage = count.restingVoltage;
        session.currentZero = scale.rest.zero;
        scale.nearlyEmpty = count.nearlyEmpty;
        session.planFits = count.planFits;
        session.cellsByVoltage = count.byVoltage;
    }
    context.poll();
}

} // namespace rw::review
