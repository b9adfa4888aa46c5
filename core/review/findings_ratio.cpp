// Motor speed against the ground: whether the gearing is the plan's.
#include "core/pass/model.h"
#include "core/plan/plan.h"
#include "core/review/findings.h"
#include "core/review/regression.h"
#include "core/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

struct RatioReading {
    double share = 0.0; // wheel speed by the gearing over measured speed, less 1
    double allowed = 0.0;
    bool coasting = false;
};

// How hard a car slows down by the plan while nothing but air, wheels and driveline holds it back.
class CoastingByPlan {
public:
    explicit CoastingByPlan(const PlanInput& plan)
        : setup_(passSetup(plan))
        , model_(setup_)
        , state_(pass::stateOf(setup_, startState(plan))) {}
    // m/s²; over it something brakes: half of what the plan's brakes add.
    [[nodiscard]] double most(double speed) const {
        constexpr double drag = 1.15, brakes = 0.5; // a plan's drag is no better known
        pass::State y = state_;
        y[pass::V] = speed;
        pass::Regime regime;
        regime.moving = true;
        regime.open = false;
        double hint = 0.0;
        const double coasting = -model_.settle(0.0, y, regime, hint).acceleration;
        return drag * std::max(coasting, 0.0) + brakes * setup_.driving.brakeFraction * standardGravity;
    }

private:
    PassSetup setup_;
    pass::Model model_;
    pass::State state_;
};

// Slope of the values over the last rows up to one, m/s²; NaN where too few are there.
template<class Value>
double slopeUpTo(const Context& context, Rows rows, double window, Value value) {
    constexpr std::size_t fewest = 3;
    double n = 0.0, t1 = 0.0, v1 = 0.0, tt = 0.0, tv = 0.0;
    std::size_t taken = 0;
    for (std::size_t i = rows.last + 1; i-- > rows.first;) {
        const double back = context.time[rows.last] - context.time[i];
        if (taken >= fewest && back > window + timeEpsilon) break;
        const double v = value(i);
        if (std::isnan(v)) continue;
        n += 1.0;
        ++taken;
        const double dt = -back - t1, dv = v - v1;
        t1 += dt / n;
        v1 += dv / n;
        tt += dt * (-back - t1);
        tv += dt * (v - v1);
    }
    return taken >= fewest && tt > 0.0 ? tv / tt : nan;
}

// The throttle closed, no current flows back, no brake is applied: by what the log tells at a row.
bool rolls(const Context& context, const RestRule& rest, std::size_t i) {
    const auto closed = [&](std::span<const double> asked) {
        return asked.empty() || (asked[i] < context.th.passEdge && !(asked[i] < -context.th.restThrottle));
    };
    if (context.pedal.empty() || !closed(context.pedal) || !closed(context[Output])) return false;
    if (context.has(Brake) && context[Brake][i] > context.th.restThrottle) return false;
    const double zero = rest.zero.value_or(0.0);
    return !std::ranges::any_of(std::array{PackCurrent, MotorCurrent}, [&](Quantity q) {
        return context.has(q) && context[q][i] - (q == PackCurrent ? zero : 0.0) < -rest.restCurrent;
    });
}

// From the throttle's close until something brakes, at most for a second: then tyres slip. A wheel that is braked loses
// speed at once, the car as hard as the brakes hold it.
Rows coastingRows(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const RestRule& rest = context.scale[pass.session].rest;
    const auto& ground = context.out.groundSpeed;
    Rows rows{pass.endRow, std::max(pass.endRow, context.after(p).last)};
    const CoastingByPlan plan(context.foretelling());
    constexpr double wheelWindow = 0.2, groundWindow = 0.4; // s: motor speed is the quieter one
    std::size_t i = rows.first;
    for (; i <= rows.last && context.time[i] - context.time[pass.endRow] <= context.th.passJoin; ++i) {
        if (!rolls(context, rest, i)) break;
        if (!(ground[i] > context.th.spinSpeed)) continue;
        const Rows sofar{rows.first, i};
        const double most = plan.most(std::max(ground[i], ground[rows.first]));
        // The gearing is what is asked: the wheels count by how much of their own speed they lose.
        const double gearing = ground[rows.first] / context.wheelSpeed(rows.first);
        const auto wheels = [&](std::size_t k) { return gearing * context.wheelSpeed(k); };
        if (slopeUpTo(context, sofar, wheelWindow, wheels) < -most ||
            slopeUpTo(context, sofar, groundWindow, [&](std::size_t k) { return ground[k]; }) < -most)
            break;
    }
    if (i == rows.first) return {1, 0};
    return {rows.first, i - 1};
}

std::optional<RatioReading> ratioOf(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const ReviewThresholds& th = context.th;
    const auto& ground = context.out.groundSpeed;
    std::vector<double> shares;
    const auto take = [&](std::size_t i) {
        const double share = context.wheelSpeed(i) / ground[i] - 1.0;
        if (ground[i] > th.spinSpeed && std::isfinite(share)) shares.push_back(share);
    };
    constexpr std::size_t enoughCoasting = 3, enough = 5;
    const Rows coasting = coastingRows(context, p);
    for (std::size_t i = coasting.first; i <= coasting.last; ++i)
        take(i);
    if (shares.size() >= enoughCoasting) return RatioReading{medianOf(shares), th.ratioCoasting, true};
    shares.clear();
    const auto off = [&](std::size_t i) {
        const auto holds = [&](Rows span) { return span.holds(i); };
        return std::any_of(context.unloaded[p].begin(), context.unloaded[p].end(), holds) ||
               std::any_of(context.spinning[p].begin(), context.spinning[p].end(), holds);
    };
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i)
        if (!off(i)) take(i);
    if (shares.size() < enough) return {};
    return RatioReading{medianOf(shares), th.ratioDriving, false};
}

// Which other gear explains an overall ratio that is `factor` times the plan's.
std::string likelyGear(const PlanInput& plan, double factor) {
    constexpr double near = 0.012; // half of what one tooth of a usual gear changes
    const auto& gears = plan.gears;
    const auto fits = [&](int pinion, int spur) {
        const double ratio = static_cast<double>(spur) / pinion * gears.pinion_teeth / gears.spur_teeth;
        return std::abs(ratio / factor - 1.0) <= near;
    };
    for (const int spur : gears.spurs)
        for (const int pinion : gears.pinions)
            if (fits(pinion, spur))
                return "pinion " + std::to_string(pinion) + " with spur " + std::to_string(spur) +
                       " of the plan's gears would explain it";
    const auto teeth = [](double count) { return std::max(1, static_cast<int>(std::lround(count))); };
    const int pinion = teeth(gears.pinion_teeth / factor), spur = teeth(gears.spur_teeth * factor);
    constexpr int fewest = 5, most = 200; // of a plan input
    const bool asPinion = pinion >= fewest && fits(pinion, gears.spur_teeth),
               asSpur = spur <= most && fits(gears.pinion_teeth, spur);
    if (!asPinion && !asSpur)
        return "no pinion or spur explains it: look at the axle's own ratio, the size of the tyres, and for what slips";
    std::string text;
    if (asPinion) text = "a pinion of " + counted(pinion, "tooth", "teeth");
    if (asSpur) text += (asPinion ? " or a spur of " : "a spur of ") + counted(spur, "tooth", "teeth");
    return text + " would explain it, which is none of the plan's gears; else an axle of another ratio, or other tyres";
}

} // namespace

void judgeRatio(Context& context) {
    const std::string_view id = "ratio-changed";
    if (!needs(context, id, {MotorSpeed})) return;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        const std::size_t session = pass.session;
        if (!needsPlan(context, id, session, "the gearing")) continue;
        if (context.out.groundSpeed.empty()) {
            cannotJudge(context, id, {}, "no speed over ground was measured");
            return;
        }
        const auto reading = ratioOf(context, p);
        if (!reading) {
            cannotJudge(context, id, session, "too few samples of measured speed");
            continue;
        }
        if (std::abs(reading->share) <= reading->allowed) continue;
        reportPass(context, id, Severity::Watch, p, {pass.startRow, pass.startRow, pass.endRow},
                   {std::string(reading->coasting ? "Coasting" : "Under power") +
                        ", the wheels by the plan's gearing run at " + plain(1.0 + reading->share, 3) +
                        " of the measured speed; " +
                        (reading->coasting ? likelyGear(context.plan, 1.0 + reading->share)
                                           : "the slip of the tyres is in it, so it does not tell which gear") +
                        ".",
                    percent(context.th.ratioCoasting) + " while coasting, else " + percent(context.th.ratioDriving)},
                   MotorSpeed);
    }
}

} // namespace rw::review
