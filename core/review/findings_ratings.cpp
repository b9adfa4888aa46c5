// Currents and speeds over what the makers allow. Ratings come from a plan; without one they are not known.
#include "core/review/findings.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

// Row of the largest value and the run around it that stays over a limit.
std::optional<Evidence> over(std::span<const double> values, Rows rows, double limit) {
    std::size_t worst = rows.first;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        if (values[i] > values[worst] || std::isnan(values[worst])) worst = i;
    if (!(values[worst] > limit)) return {};
    Evidence found{worst, worst, worst};
    while (found.from > rows.first && values[found.from - 1] > limit)
        --found.from;
    while (found.to < rows.last && values[found.to + 1] > limit)
        ++found.to;
    return found;
}

struct Rating {
    std::string_view id, what;
    Quantity quantity;
    std::optional<double> continuous, burst; // A
};

// In one pass of a session that the plan counts for. True: found.
bool judgeCurrent(Context& context, std::size_t p, const Rating& rating) {
    if (!rating.continuous && !rating.burst) {
        cannotJudge(context, rating.id, {}, "the plan gives no rating");
        return false;
    }
    const double watch = rating.continuous.value_or(*(rating.burst ? rating.burst : rating.continuous));
    const double act = rating.burst.value_or(std::numeric_limits<double>::infinity());
    const auto found = over(context[rating.quantity], context.rows(context.out.passes[p]), std::min(watch, act));
    if (!found) return false;
    const double peak = context[rating.quantity][found->at];
    const bool broken = peak > act;
    Sentence threshold = amperes(watch, 0) + " continuous";
    if (rating.burst) threshold += ", act " + amperes(act, 0) + " burst";
    reportPass(context, rating.id, broken ? Severity::Act : Severity::Watch, p, *found,
               {std::string(rating.what) + " current reached " + amperes(peak) + ", over the " +
                    (broken ? "burst" : "continuous") + " rating of " + amperes(broken ? act : watch, 0) + ".",
                threshold},
               rating.quantity);
    return true;
}

void judgePackCurrent(Context& context) {
    const std::string_view id = "pack-current-over";
    if (!needs(context, id, {PackCurrent})) return;
    const auto& pack = context.plan.pack;
    const auto rated = [&](std::optional<double> rate) {
        return rate ? std::optional<double>(*rate * pack.capacity_Ah) : std::nullopt;
    };
    const Rating rating{id, "Pack", PackCurrent, rated(pack.continuous_c_rate),
                        rated(pack.burst_c_rate ? pack.burst_c_rate : pack.continuous_c_rate)};
    for (std::size_t p = 0; p < context.out.passes.size(); ++p)
        if (needsPlan(context, id, context.out.passes[p].session, "the pack's rating"))
            judgeCurrent(context, p, rating);
}

void judgeControllerCurrent(Context& context) {
    const std::string_view id = "controller-current-over";
    // Duty is at most 1, so the motor's current is never below the pack's: that one can only understate.
    const Quantity q = context.has(MotorCurrent) ? MotorCurrent : PackCurrent;
    if (!needs(context, id, {q})) return;
    const auto& controller = context.plan.controller;
    const Rating rating{id, q == MotorCurrent ? "Motor" : "Pack", q, controller.continuous_A, controller.burst_A};
    bool judged = false, found = false;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        if (!needsPlan(context, id, context.out.passes[p].session, "the controller's rating")) continue;
        judged = rating.continuous || rating.burst;
        found |= judgeCurrent(context, p, rating);
    }
    if (q == PackCurrent && judged && !found)
        cannotJudge(context, id, {},
                    "the log has no motor current; the pack's, which is lower, stays within the rating");
}

// A limit of speed: of the motor itself, of the controller's electrical speed, of the tyres.
struct SpeedLimit {
    enum class Of { Motor, Electrical, Tyres } of = Of::Motor;
    double motor = 0.0; // rad/s of the motor at the limit
    double limit = 0.0; // rad/s of what it limits
};

std::vector<SpeedLimit> speedLimits(const Context& context) {
    std::vector<SpeedLimit> limits;
    const PlanInput& plan = context.plan;
    using Of = SpeedLimit::Of;
    if (plan.motor.max_speed_rpm)
        limits.push_back({Of::Motor, *plan.motor.max_speed_rpm * radpsPerRpm, *plan.motor.max_speed_rpm * radpsPerRpm});
    if (plan.controller.max_electrical_rpm) {
        const double pairs = plan.motor.poles / 2.0, limit = *plan.controller.max_electrical_rpm * radpsPerRpm;
        limits.push_back({Of::Electrical, limit / pairs, limit});
    }
    if (plan.tyre.max_speed_radps)
        limits.push_back({Of::Tyres, *plan.tyre.max_speed_radps * context.ratio, *plan.tyre.max_speed_radps});
    return limits;
}

Sentence speedText(const SpeedLimit& limit, double motor) {
    const double reached = motor / limit.motor * limit.limit;
    switch (limit.of) {
    case SpeedLimit::Of::Motor:
        return "motor at " + turning(reached) + ", limit " + turning(limit.limit);
    case SpeedLimit::Of::Electrical:
        return "electrical speed at " + turning(reached) + ", limit " + turning(limit.limit);
    case SpeedLimit::Of::Tyres:
        return "tyres at " + SaidNumber{reached, Dimension::AngularSpeed, 0} + ", limit " +
               SaidNumber{limit.limit, Dimension::AngularSpeed, 0};
    }
    return {};
}

// Taller gearing slows the motor and speeds up the tyres: what helps depends on which limit broke.
std::string speedAdvice(const std::vector<SpeedLimit>& limits, double motor) {
    const auto broken = [&](SpeedLimit::Of of) {
        return std::ranges::any_of(limits,
                                   [&](const SpeedLimit& limit) { return limit.of == of && motor > limit.motor; });
    };
    const bool tyres = broken(SpeedLimit::Of::Tyres), turns = broken(SpeedLimit::Of::Motor),
               electrical = broken(SpeedLimit::Of::Electrical);
    if (tyres && (turns || electrical))
        return "Stop here: use fewer cells or less throttle. Gearing cannot mend both: what slows the tyres lets the "
               "motor turn faster.";
    if (tyres)
        return "Stop here: fit tyres that are rated for it, or let the wheels turn slower with shorter gearing, fewer "
               "cells or less throttle.";
    if (electrical && !turns)
        return "Stop here: gear taller, use fewer cells, a motor of fewer poles or lower kv, or a controller that is "
               "made "
               "for this speed.";
    return "Stop here: gear taller, use fewer cells or a motor of lower kv.";
}

void judgeOverspeed(Context& context) {
    const std::string_view id = "motor-overspeed";
    if (!needs(context, id, {MotorSpeed})) return;
    const auto limits = speedLimits(context);
    const auto speed = context[MotorSpeed];
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (!needsPlan(context, id, pass.session, "the limit of speed")) continue;
        if (limits.empty()) {
            cannotJudge(context, id, {}, "the plan gives no limit of speed");
            return;
        }
        const auto tightest = std::ranges::min_element(limits, {}, &SpeedLimit::motor);
        std::optional<Rows> run;
        forEachRun(
            context.rows(pass), [&](std::size_t i) { return speed[i] > tightest->motor; },
            [&](Rows found) {
                if (found.count() >= 2 && (!run || found.count() > run->count())) run = found;
            });
        if (!run) continue;
        const auto worst = over(speed, *run, tightest->motor);
        Sentence seen;
        for (const SpeedLimit& limit : limits)
            if (speed[worst->at] > limit.motor) seen += (seen.empty() ? "" : "; ") + speedText(limit, speed[worst->at]);
        reportPass(context, id, Severity::Act, p, {worst->at, run->first, run->last},
                   {seen.upperFirst() + ".", "over the limit for 2 samples", speedAdvice(limits, speed[worst->at])},
                   MotorSpeed);
    }
}

} // namespace

void judgeRatings(Context& context) {
    if (context.out.passes.empty()) return;
    judgePackCurrent(context);
    judgeControllerCurrent(context);
    judgeOverspeed(context);
}

} // namespace rw::review
