// Temperatures: over comfort or limit, climbing from pass to pass, a log that ends before the peak.
#include "core/plan/plan.h"
#include "core/review/findings.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

struct Part {
    std::string_view id, name;
    Quantity quantity;
    ReviewPass::Temperature ReviewPass::*figures;
    double comfort = 0.0, limit = 0.0; // K
};

std::vector<Part> parts(const Context& context, std::size_t session) {
    const PlanInput& l = context.limits(session);
    return {{"motor-hot", "motor", MotorTemperature, &ReviewPass::motor, kelvinFromCelsius(l.motor.comfort_C),
             kelvinFromCelsius(l.motor.limit_C)},
            {"controller-hot", "controller", ControllerTemperature, &ReviewPass::controller,
             kelvinFromCelsius(l.controller.comfort_C), kelvinFromCelsius(l.controller.limit_C)},
            {"pack-hot", "pack", PackTemperature, &ReviewPass::pack, kelvinFromCelsius(l.pack.comfort_C),
             kelvinFromCelsius(l.pack.limit_C)}};
}

void judgeHot(Context& context, std::size_t which) {
    {
        const Part any = parts(context, 0)[which];
        if (!needs(context, any.id, {any.quantity})) return;
    }
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        const Part part = parts(context, pass.session)[which];
        const auto values = context[part.quantity];
        const auto& t = pass.*part.figures;
        const auto most = hottest(t);
        if (!most) {
            cannotJudge(context, part.id, pass.session,
                        "the " + std::string(part.name) + "'s temperature is missing in a pass");
            continue;
        }
        if (!(*most > part.comfort)) continue;
        const Rows rows{pass.startRow, context.after(p).last};
        Evidence where{rows.first, rows.last, rows.first};
        bool any = false;
        for (std::size_t i = rows.first; i <= rows.last; ++i) {
            if (!(values[where.at] >= values[i])) where.at = std::isnan(values[i]) ? where.at : i;
            if (!(values[i] > part.comfort)) continue;
            where.from = any ? where.from : i;
            where.to = i;
            any = true;
        }
        if (!any) where.from = where.to = where.at;
        const bool broken = *most > part.limit;
        const bool predicted = t.soakPredicted && *most == *t.soakPredicted;
        Sentence seen = predicted ? "The " + std::string(part.name) + " will have peaked near " + degrees(*most) +
                                        " after the log ended"
                                  : std::string(part.name) + " reached " + degrees(*most);
        if (!predicted && t.soak && *most == *t.soak && t.soakAfter && *t.soakAfter > 0.0)
            seen += ", " + seconds(*t.soakAfter, 0) + " after the pass";
        if (t.start) seen += "; it started at " + degrees(*t.start);
        reportPass(context, part.id, broken ? Severity::Act : Severity::Watch, p, where,
                   {seen.upperFirst() + ".", "comfort " + degrees(part.comfort) + ", act " + degrees(part.limit)},
                   part.quantity);
    }
}

// s, in which a motor that stands gives its heat to the air, as logs taught: both nodes go down together in the end.
std::optional<double> taughtConstant(const Context& context, const Part& part, std::size_t session) {
    if (part.quantity != MotorTemperature || !context.taught() || !context.planCounts(session)) return {};
    const TwoNodeHeat motor = passSetup(context.foretelling()).motor.heat;
    constexpr double late = 300.0, later = 600.0; // s
    const double ratio = cool(motor, {1.0, 1.0}, 0.0, late).motorCase / cool(motor, {1.0, 1.0}, 0.0, later).motorCase;
    return (later - late) / std::log(ratio);
}

// Seconds of cooling, by what logs taught of the motor, else by the cooling seen after the pass before, until the part
// is as cool as it first started. None: cannot be told, from a part that had not begun to cool say.
std::optional<double> waitToStartAs(const Context& context, const Part& part, std::size_t first, std::size_t last) {
    const auto& before = context.out.passes[last - 1].*part.figures;
    const auto& now = context.out.passes[last].*part.figures;
    const auto& begin = context.out.passes[first].*part.figures;
    const std::size_t session = context.out.passes[last].session;
    if (!begin.start || !now.soak) return {};
    const double air = context.planCounts(session) ? kelvinFromCelsius(context.plan.air.temperature_C) : *begin.start;
    const auto seen = [&]() -> std::optional<double> {
        if (!before.soak || !before.soakAfter || !before.soakComplete || !now.start) return {};
        const double cooled = context.out.passes[last].start - context.out.passes[last - 1].end - *before.soakAfter;
        if (!(cooled > 0.0) || *now.start <= air || *now.start >= *before.soak) return {};
        return cooled / std::log((*before.soak - air) / (*now.start - air));
    };
    const auto taught = taughtConstant(context, part, session);
    const auto constant = taught ? taught : seen();
    constexpr double close = 3.0; // K: near enough to the first start
    const double target = std::max(*begin.start, air) + close;
    if (!constant || *now.soak <= target) return {};
    const double wait = now.soakAfter.value_or(0.0) + *constant * std::log((*now.soak - air) / (target - air));
    return std::isfinite(wait) && wait > 0.0 ? std::optional<double>(wait) : std::nullopt;
}

struct Climb {
    std::size_t first = 0, last = 0; // passes
    double rise = 0.0;               // K, of the last step
    const Part* part = nullptr;
};

// Over the passes of one session. One that goes on after a restart has no start of its own.
std::optional<Climb> climbOf(const Context& context, const Part& part, std::size_t begin, std::size_t end) {
    std::vector<std::size_t> starts;
    for (std::size_t p = begin; p < end; ++p)
        if (!context.out.passes[p].cutAtStart) starts.push_back(p);
    std::optional<Climb> found;
    const auto start = [&](std::size_t k) { return (context.out.passes[starts[k]].*part.figures).start.value_or(nan); };
    for (std::size_t k = 1; k < starts.size(); ++k) {
        const double rise = start(k) - start(k - 1);
        const bool three = k >= 2 && rise >= context.th.accumulateThree - 1e-9 &&
                           start(k - 1) - start(k - 2) >= context.th.accumulateThree - 1e-9;
        const std::size_t steps = rise >= context.th.accumulateTwo - 1e-9 ? 1 : three ? 2 : 0;
        if (steps == 0) continue;
        const bool goesOn = found && found->last == starts[k - 1];
        found = Climb{goesOn ? found->first : starts[k - steps], starts[k], rise, &part};
    }
    return found;
}

void reportClimb(Context& context, const Climb& climb) {
    const Part& part = *climb.part;
    const auto& last = context.out.passes[climb.last].*part.figures;
    const double top = hottest(last).value_or(nan), next = top + climb.rise;
    const bool breaks = next > part.limit;
    Sentence seen = std::string(part.name) + " started at";
    seen.upperFirst();
    for (std::size_t p = climb.first; p <= climb.last; ++p)
        if (!context.out.passes[p].cutAtStart)
            seen += (p == climb.first ? " " : ", ") + degrees(*(context.out.passes[p].*part.figures).start);
    seen += " from pass to pass; ";
    const double fit = std::floor((part.limit - top) / climb.rise);
    if (breaks)
        seen += "the next pass at this rhythm would reach " + degrees(next) + ", over its limit";
    else
        seen += plain(std::max(0.0, fit)) + " more at this rhythm before it reaches its limit";
    if (const auto wait = waitToStartAs(context, part, climb.first, climb.last))
        seen += "; a wait of about " + seconds(std::ceil(*wait / 10.0) * 10.0, 0) + " avoids it" +
                (taughtConstant(context, part, context.out.passes[climb.last].session)
                     ? ", by what logs taught of the motor"
                     : "");
    const ReviewPass& pass = context.out.passes[climb.last];
    reportPass(context, "heat-accumulates", breaks ? Severity::Act : Severity::Watch, climb.last,
               {pass.startRow, context.out.passes[climb.first].startRow, pass.startRow},
               {seen + ".", "three starts that rise by " + warming(context.th.accumulateThree) + " each, or two by " +
                                warming(context.th.accumulateTwo)},
               part.quantity);
}

bool needsTemperature(Context& context, std::string_view id) {
    const bool any =
        context.has(MotorTemperature) || context.has(ControllerTemperature) || context.has(PackTemperature);
    if (!any) cannotJudge(context, id, {}, "the log has no temperature");
    return any;
}

void judgeClimb(Context& context) {
    if (!needsTemperature(context, "heat-accumulates")) return;
    const auto& passes = context.out.passes;
    for (std::size_t begin = 0, end = 0; begin < passes.size(); begin = end) {
        while (end < passes.size() && passes[end].session == passes[begin].session)
            ++end;
        const auto all = parts(context, passes[begin].session);
        std::optional<Climb> worst;
        for (const Part& part : all) {
            const auto climb = climbOf(context, part, begin, end);
            const auto room = [](const Context& c, const Climb& x) {
                return x.part->limit - hottest(c.out.passes[x.last].*x.part->figures).value_or(0.0) - x.rise;
            };
            if (climb && (!worst || room(context, *climb) < room(context, *worst))) worst = climb;
        }
        if (worst) reportClimb(context, *worst);
    }
}

// Once a log: it ends within 20 s of its last pass while a temperature still rises.
void judgeEnd(Context& context) {
    if (!needsTemperature(context, "log-ends-early")) return;
    const std::size_t p = context.out.passes.size() - 1;
    const ReviewPass& pass = context.out.passes[p];
    if (pass.session + 1 != context.scale.size()) return;
    const Rows after = context.after(p);
    const double left = context.time[after.last] - context.time[after.first];
    if (left > context.th.endsEarly) return;
    for (const Part& part : parts(context, pass.session)) {
        if (!context.has(part.quantity)) continue;
        const auto& t = pass.*part.figures;
        const double now = [&] {
            std::size_t i = after.last;
            while (i > pass.startRow && std::isnan(context[part.quantity][i]))
                --i;
            return context[part.quantity][i];
        }();
        if (!t.soak || !t.end || !t.start || t.soakComplete) continue;
        // Rising: at its highest, within the sensor's noise, and above where it was when the pass ended (or began, if
        // it was cut).
        const double from = left > context.th.passJoin ? *t.end : *t.start;
        const double noise = std::max(context.th.soakFall / 2.0, context.log[part.quantity].step);
        if (now < *t.soak - noise || now < from + noise) continue;
        reportPass(context, "log-ends-early", Severity::Note, p, {after.last, after.first, after.last},
                   {"The log ends " + seconds(left, 1) + " after the pass while the " + std::string(part.name) +
                        " still rises, at " + degrees(now) + ".",
                    "the log ends within " + seconds(context.th.endsEarly, 0) + " of a pass"},
                   part.quantity);
        return;
    }
}

} // namespace

void judgeHeat(Context& context) {
    if (context.out.passes.empty()) return;
    for (std::size_t which = 0; which < 3; ++which)
        judgeHot(context, which);
    judgeClimb(context);
    judgeEnd(context);
}

} // namespace rw::review
