// Motor speed against the ground: whether the gearing is the plan's.
#include "core/pass/model.h"
#include "core/plan/plan.h"
#include "core/review/compare.h"
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
    // m/s²; over it something brakes: half of what the plan's brakes, or its tyres, add.
    [[nodiscard]] double most(double speed) const {
        constexpr double drag = 1.15, brakes = 0.5; // a plan's drag is no better known
        const double rolling = std::max(deceleration(speed, false), 0.0);
        return drag * rolling + brakes * std::max(deceleration(speed, true) - rolling, 0.0);
    }

private:
    [[nodiscard]] double deceleration(double speed, bool braking) const {
        pass::State y = state_;
        y[pass::V] = speed;
        pass::Regime regime;
        regime.moving = true;
        regime.open = false;
        regime.braking = braking;
        double hint = 0.0;
        model_.resolve(0.0, y, regime, std::nullopt, hint);
        return -model_.solve(0.0, y, regime, hint).acceleration;
    }

    PassSetup setup_;
    pass::Model model_;
    pass::State state_;
};

// Straight line through values over rows: its slope and by how much noise of 1 would blur it.
struct Slope {
    double value = nan; // 1/s; NaN: fewer than three values
    double blur = 0.0;
};
template<class Value>
Slope slopeOf(const Context& context, Rows rows, Value value) {
    Line line;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        if (const double v = value(i); !std::isnan(v)) line.add(context.time[i] - context.time[rows.first], v);
    constexpr double fewest = 3.0;
    if (line.count < fewest || !(line.xx > 0.0)) return {};
    return {line.xy / line.xx, 1.0 / std::sqrt(line.xx)};
}

// The throttle closed, no current flows back, no brake is applied: by what the log tells at a row.
bool rolls(const Context& context, const RestRule& rest, std::size_t i) {
    const auto closed = [&](std::span<const double> asked) {
        return asked.empty() || (asked[i] < context.th.passEdge && !(asked[i] < -context.th.restThrottle));
    };
    if (context.pedal.empty() || !closed(context.pedal) || !closed(context[Output])) return false;
    if (context.has(Brake) && context[Brake][i] > context.th.restThrottle) return false;
    constexpr double clearly = 3.0; // times what is rest: one sample's noise is no brake
    const double zero = rest.zero.value_or(0.0);
    return !std::ranges::any_of(std::array{PackCurrent, MotorCurrent}, [&](Quantity q) {
        return context.has(q) && context[q][i] - (q == PackCurrent ? zero : 0.0) < -clearly * rest.restCurrent;
    });
}

// From the throttle's close until something brakes, at most for a second: then tyres slip. A wheel that is braked loses
// speed at once, the car as hard as the brakes hold it.
std::optional<Rows> coastingRows(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    const auto& ground = context.out.groundSpeed;
    const auto overGround = [&](std::size_t i) { return ground[i]; };
    // The gearing is what is asked: the wheels count by how much of their own speed they lose.
    const double gearing = ground[pass.endRow] / context.wheelSpeed(pass.endRow);
    const auto wheels = [&](std::size_t i) { return gearing * context.wheelSpeed(i); };
    constexpr double wheelWindow = 0.1, groundWindow = 0.3, before = 1.0, sure = 2.0; // s; standard errors
    const Rows driven{rowAt(context.time, context.rows(pass), context.time[pass.endRow] - before), pass.endRow};
    const auto noiseOf = [&](auto value) {
        std::vector<double> values;
        for (std::size_t i = driven.first; i <= driven.last; ++i)
            values.push_back(value(i));
        return noiseOfChanges(values);
    };
    const double wheelNoise = noiseOf(wheels), groundNoise = noiseOf(overGround);
    const CoastingByPlan plan(context.foretelling());
    const auto braked = [&](Rows rows, auto value, double noise) {
        const Slope slope = slopeOf(context, rows, value);
        return slope.value + sure * noise * slope.blur < -plan.most(ground[rows.first]);
    };
    const std::size_t last = std::max(pass.endRow, context.after(p).last);
    std::size_t i = pass.endRow, from = pass.endRow;
    for (; i <= last && context.time[i] - context.time[pass.endRow] <= context.th.passJoin; ++i) {
        if (!rolls(context, context.scale[pass.session].rest, i)) break;
        if (!(ground[i] > context.th.spinSpeed)) continue;
        while (from + 2 < i && context.time[i] - context.time[from + 1] >= wheelWindow - timeEpsilon)
            ++from;
        const bool longEnough = context.time[i] - context.time[from] >= wheelWindow - timeEpsilon;
        if (longEnough && braked({from, i}, wheels, wheelNoise)) break;
        if (context.time[i] - context.time[pass.endRow] >= groundWindow - timeEpsilon &&
            braked({pass.endRow, i}, overGround, groundNoise))
            return {};
    }
    if (i == pass.endRow) return {};
    return Rows{pass.endRow, i - 1};
}

// By how much the wheels outrun the ground in the pass as planned from this one's own start: the tyres' slip.
double plannedSlip(const Context& context, const ReviewPass& seen) {
    const PlanInput plan = plannedPass(context.foretelling(), seen);
    const PassSetup setup = passSetup(plan);
    std::vector<double> shares;
    (void)simulatePass(setup, startState(plan), {}, [&](const Instant& i) {
        if ((i.phase == Phase::RunUp || i.phase == Phase::Timed) && i.speed > context.th.spinSpeed)
            shares.push_back(i.wheelSpeed * setup.tyre.radiusAt(i.wheelSpeed) / i.speed - 1.0);
    });
    return shares.empty() ? 0.0 : std::max(0.0, medianOf(shares));
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
    if (const auto coasting = coastingRows(context, p))
        for (std::size_t i = coasting->first; i <= coasting->last; ++i)
            take(i);
    if (shares.size() >= enoughCoasting) return RatioReading{medianOf(shares), th.ratioCoasting, true};
    shares.clear();
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i)
        if (context.wheelsHold(p, i)) take(i);
    if (shares.size() < enough) return {};
    return RatioReading{medianOf(shares), th.ratioDriving, false};
}

// Which other gear explains an overall ratio that is `factor` times the plan's.
std::string likelyGear(const PlanInput& plan, double factor) {
    constexpr double near = 0.012; // half of what one tooth of a usual gear changes
    const auto& gears = plan.gears;
    const auto off = [&](int pinion, int spur) {
        const double ratio = static_cast<double>(spur) / pinion * gears.pinion_teeth / gears.spur_teeth;
        return std::abs(ratio / factor - 1.0);
    };
    // The nearest; one gear is changed sooner than both.
    struct Pair {
        int pinion = 0, spur = 0;
        double off = near;
    };
    std::array<Pair, 2> nearest;
    for (const int spur : gears.spurs)
        for (const int pinion : gears.pinions) {
            Pair& best = nearest[spur == gears.spur_teeth || pinion == gears.pinion_teeth ? 0 : 1];
            if (off(pinion, spur) < best.off) best = {pinion, spur, off(pinion, spur)};
        }
    for (const Pair& pair : nearest)
        if (pair.pinion > 0)
            return "pinion " + std::to_string(pair.pinion) + " with spur " + std::to_string(pair.spur) +
                   " of the plan's gears would explain it";
    const auto fits = [&](int pinion, int spur) { return off(pinion, spur) <= near; };
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
        // Tyres at their limit slip by more than that for most of a pass.
        if (!reading->coasting &&
            std::abs((1.0 + reading->share) / (1.0 + plannedSlip(context, pass)) - 1.0) <= reading->allowed)
            continue;
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
