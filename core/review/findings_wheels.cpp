// Wheels that lose their load, and wheels that spin: spans in which wheel speed is not ground speed.
#include "core/review/context.h"
#include "core/review/findings.h"

namespace rw::review {

namespace {

using enum Quantity;

// Output, else throttle: what tells that a jump was not asked for.
std::span<const double> askedFor(const Context& context) {
    return context.has(Output) ? context[Output] : context[Throttle];
}

bool fastEnough(const Context& context, std::size_t session) {
    const double interval = std::max(context.scale[session].medianStep, context.log[MotorSpeed].interval_s);
    return interval > 0.0 && interval <= 1.0 / context.th.unloadedRate + timeEpsilon;
}

class UnloadedFinder {
public:
    UnloadedFinder(const Context& context, const ReviewPass& pass)
        : context_(context)
        , rows_(context.rows(pass))
        , speed_(context[MotorSpeed])
        , current_(context[PackCurrent])
        , asked_(askedFor(context))
        , zero_(context.scale[pass.session].rest.zero.value_or(0.0)) {}

    [[nodiscard]] std::vector<Rows> find() const {
        std::vector<Rows> spans;
        const ReviewThresholds& th = context_.th;
        SlidingRange speed(speed_), current(current_); // over the rows in which a jump from row i on would end
        std::size_t end = rows_.first;
        for (std::size_t i = rows_.first + 1; i < rows_.last; ++i) {
            for (; end <= rows_.last && context_.time[end] - context_.time[i] <= th.unloadedWithin + timeEpsilon; ++end)
                speed.push(end), current.push(end);
            speed.dropBefore(i + 1), current.dropBefore(i + 1);
            // Most rows end here: nothing jumps after them.
            if (speed.empty() || current.empty() || !(speed.high() >= (1.0 + th.unloadedJump) * speed_[i]) ||
                !(current.low() - zero_ <= (1.0 - th.unloadedCurrentFall) * (current_[i] - zero_)))
                continue;
            const auto span = from(i);
            if (!span) continue;
            spans.push_back(*span);
            i = span->last;
        }
        return spans;
    }

private:
    // The straight course of the half second before, carried on from row i.
    [[nodiscard]] double slopeAt(std::size_t i) const {
        const std::size_t before = rowAt(context_.time, rows_, context_.time[i] - context_.th.unloadedOutputQuiet);
        const double span = context_.time[i] - context_.time[std::min(before, i)];
        constexpr double shortest = 0.15; // s: less shows no course
        return span < shortest ? nan : (speed_[i] - speed_[before]) / span;
    }

    // From half a second before until speed is back: a change of output explains a jump.
    [[nodiscard]] bool quiet(std::size_t first, std::size_t back) const {
        const double margin = context_.th.unloadedOutputQuiet;
        const Rows around{rowAt(context_.time, rows_, context_.time[first] - margin), back};
        return rangeOver(asked_, around).span() <= context_.th.outputSteady + 1e-9;
    }

    // The ground takes the load back. Where an output is logged it shows that none was taken by the controller.
    [[nodiscard]] bool loadedAgain(std::size_t back, double start) const {
        if (context_.has(Output)) return true;
        constexpr double soon = 0.3; // s
        for (std::size_t i = back; i <= rows_.last && context_.time[i] - context_.time[back] <= soon; ++i)
            if (current_[i] - zero_ > (1.0 - context_.th.unloadedCurrentFall) * start) return true;
        return false;
    }

    struct Jump {
        std::size_t from; // the last sample on course
        double slope;     // of that course
        std::size_t top;  // the first sample that lies clearly over it
    };
    [[nodiscard]] double course(const Jump& jump, std::size_t row) const {
        return speed_[jump.from] + jump.slope * (context_.time[row] - context_.time[jump.from]);
    }
    [[nodiscard]] std::optional<Jump> jumpAfter(std::size_t i) const {
        const ReviewThresholds& th = context_.th;
        Jump jump{i, slopeAt(i), i + 1};
        const double start = current_[i] - zero_;
        bool fell = false;
        for (; jump.top <= rows_.last && context_.time[jump.top] - context_.time[i] <= th.unloadedWithin + timeEpsilon;
             ++jump.top) {
            fell |= current_[jump.top] - zero_ <= (1.0 - th.unloadedCurrentFall) * start;
            if (fell && speed_[jump.top] >= (1.0 + th.unloadedJump) * course(jump, jump.top) &&
                speed_[jump.top] >= (1.0 + th.unloadedJump) * speed_[i])
                return jump;
        }
        return {};
    }
    // The same jump from where it really begins: the samples before it are on course still.
    [[nodiscard]] Jump tightened(const Jump& wide) const {
        constexpr double onCourse = 0.25; // of the jump
        Jump tight = wide;
        for (std::size_t i = wide.from + 1; i < wide.top; ++i) {
            if (speed_[i] > (1.0 + onCourse * context_.th.unloadedJump) * course(wide, i)) break;
            if (const auto jump = jumpAfter(i)) tight = *jump;
        }
        return tight;
    }

    // A span that begins after row i, or soon after.
    [[nodiscard]] std::optional<Rows> from(std::size_t i) const {
        const ReviewThresholds& th = context_.th;
        const auto wide = jumpAfter(i);
        if (!(speed_[i] > 0.0) || !wide) return {};
        const Jump jump = tightened(*wide);
        const double stood = speed_[jump.from], start = current_[jump.from] - zero_;
        for (std::size_t back = jump.top + 1;
             back <= rows_.last && context_.time[back] - context_.time[jump.from] <= th.unloadedReturn + timeEpsilon;
             ++back) {
            // A course that flattens near top speed ends below its straight continuation.
            if (speed_[back] <= (1.0 + th.unloadedBack) * course(jump, back) &&
                speed_[back] >= (1.0 - th.unloadedBack) * stood)
                return quiet(jump.from, back) && loadedAgain(back, start) ? std::optional(Rows{jump.from + 1, back - 1})
                                                                          : std::nullopt;
        }
        return {};
    }

    const Context& context_;
    Rows rows_;
    std::span<const double> speed_, current_, asked_;
    double zero_;
};

// Wheel over ground speed by 15 % above 3 m/s for 0.3 s, with rising output.
std::vector<Rows> spinsOf(const Context& context, const ReviewPass& pass) {
    const ReviewThresholds& th = context.th;
    const auto& ground = context.out.groundSpeed;
    const auto asked = askedFor(context);
    const Rows rows = context.rows(pass);
    std::vector<Rows> spans;
    const auto slips = [&](std::size_t i) {
        return ground[i] > th.spinSpeed && context.wheelSpeed(i) >= (1.0 + th.spinSlip) * ground[i];
    };
    forEachRun(rows, slips, [&](Rows run) {
        if (context.time[run.last] - context.time[run.first] < th.spinSpan - timeEpsilon) return;
        const std::size_t before = rowAt(context.time, rows, context.time[run.first] - th.spinSpan);
        if (rangeOver(asked, {before, run.last}).high > asked[before] + th.outputSteady) spans.push_back(run);
    });
    return spans;
}

bool canSpin(const Context& context, std::size_t session) {
    return context.hasWheelSpeed(session) && !context.out.groundSpeed.empty() && !askedFor(context).empty();
}

bool canUnload(const Context& context) {
    return context.has(MotorSpeed) && context.has(PackCurrent) && !askedFor(context).empty();
}

void reportUnloaded(Context& context, std::size_t p) {
    const auto& spans = context.unloaded[p];
    const auto speed = context[MotorSpeed];
    Evidence worst;
    double most = 0.0;
    for (const Rows span : spans) {
        const double before = speed[span.first - 1];
        for (std::size_t i = span.first; i <= span.last; ++i)
            if (speed[i] / before > most) most = speed[i] / before, worst = {i, span.first, span.last};
    }
    Sentence seen = "Motor speed jumped by " + percent(most - 1.0, 1) +
                    " while the current fell, and came back after " +
                    seconds(context.time[worst.to] - context.time[worst.from - 1]);
    if (spans.size() > 1) seen += "; " + plain(static_cast<double>(spans.size())) + " times in this pass";
    reportPass(context, "wheels-unloaded", Severity::Watch, p, worst,
               {seen + ".", "jump of " + percent(context.th.unloadedJump) + " within " +
                                seconds(context.th.unloadedWithin, 1) + ", current down by " +
                                percent(context.th.unloadedCurrentFall) + ", back within " +
                                seconds(context.th.unloadedReturn, 1)},
               MotorSpeed);
}

void reportSpin(Context& context, std::size_t p) {
    const auto slip = [&](std::size_t i) { return context.wheelSpeed(i) / context.out.groundSpeed[i] - 1.0; };
    const auto longest = std::ranges::max_element(context.spinning[p], [&](Rows a, Rows b) {
        return context.time[a.last] - context.time[a.first] < context.time[b.last] - context.time[b.first];
    });
    std::size_t worst = longest->first;
    for (std::size_t i = longest->first; i <= longest->last; ++i)
        if (slip(i) > slip(worst)) worst = i;
    reportPass(context, "wheelspin", Severity::Note, p, {worst, longest->first, longest->last},
               {"The wheels ran up to " + percent(slip(worst)) + " faster than the ground for " +
                    seconds(context.time[longest->last] - context.time[longest->first]) + ".",
                percent(context.th.spinSlip) + " for " + seconds(context.th.spinSpan, 1) + " above " +
                    speedOf(context.th.spinSpeed, 0)},
               Speed);
}

} // namespace

void findWheelSpans(Context& context) {
    context.unloaded.assign(context.out.passes.size(), {});
    context.spinning.assign(context.out.passes.size(), {});
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (canUnload(context) && fastEnough(context, pass.session))
            context.unloaded[p] = UnloadedFinder(context, pass).find();
        if (canSpin(context, pass.session)) context.spinning[p] = spinsOf(context, pass);
    }
}

void judgeWheels(Context& context) {
    if (context.out.passes.empty()) return;
    if (needs(context, "wheels-unloaded", {MotorSpeed, PackCurrent}) && askedFor(context).empty())
        cannotJudge(context, "wheels-unloaded", {}, "the log has neither output nor throttle");
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const std::size_t session = context.out.passes[p].session;
        if (needsPlan(context, "wheelspin", session, "the gearing") && !canSpin(context, session))
            cannotJudge(context, "wheelspin", {},
                        context.out.groundSpeed.empty() ? "no speed over ground was measured"
                                                        : "the log lacks motor speed, or output and throttle");
        if (canUnload(context) && !fastEnough(context, session))
            cannotJudge(context, "wheels-unloaded", session,
                        "motor speed is sampled under " + number(context.th.unloadedRate, 0) + " times a second");
        if (!context.unloaded[p].empty()) reportUnloaded(context, p);
        if (!context.spinning[p].empty()) reportSpin(context, p);
    }
}

} // namespace rw::review
