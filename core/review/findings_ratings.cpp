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

void judgeCurrent(Context& context, const Rating& rating) {
    if (!rating.continuous && !rating.burst) {
        cannotJudge(context, rating.id, {},
                    context.hasPlan ? "the plan gives no rating" : "no plan was given, so no rating is known");
        return;
    }
    const double watch = rating.continuous.value_or(*(rating.burst ? rating.burst : rating.continuous));
    const double act = rating.burst.value_or(std::numeric_limits<double>::infinity());
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const auto found = over(context[rating.quantity], context.rows(context.out.passes[p]), std::min(watch, act));
        if (!found) continue;
        const double peak = context[rating.quantity][found->at];
        const bool broken = peak > act;
        std::string threshold = number(watch, 0) + " A continuous";
        if (rating.burst) threshold += ", act " + number(act, 0) + " A burst";
        reportPass(context, rating.id, broken ? Severity::Act : Severity::Watch, p, *found,
                   {std::string(rating.what) + " current reached " + number(peak, 1) + " A, over the " +
                        (broken ? "burst" : "continuous") + " rating of " + number(broken ? act : watch, 0) + " A.",
                    threshold},
                   rating.quantity);
    }
}

void judgePackCurrent(Context& context) {
    if (!needs(context, "pack-current-over", {PackCurrent})) return;
    const auto& pack = context.limits.pack;
    const auto amperes = [&](std::optional<double> rate) {
        return rate ? std::optional<double>(*rate * pack.capacity_Ah) : std::nullopt;
    };
    const auto continuous = context.hasPlan ? amperes(pack.continuous_c_rate) : std::nullopt;
    const auto burst =
        context.hasPlan ? amperes(pack.burst_c_rate ? pack.burst_c_rate : pack.continuous_c_rate) : std::nullopt;
    judgeCurrent(context, {"pack-current-over", "Pack", PackCurrent, continuous, burst});
}

void judgeControllerCurrent(Context& context) {
    const std::string_view id = "controller-current-over";
    // Duty is at most 1, so the motor's current is never below the pack's: that one can only understate.
    if (!context.has(MotorCurrent) && !needs(context, id, {PackCurrent})) return;
    const auto& controller = context.limits.controller;
    const Quantity q = context.has(MotorCurrent) ? MotorCurrent : PackCurrent;
    const std::size_t before = context.out.findings.size();
    judgeCurrent(context, {id, q == MotorCurrent ? "Motor" : "Pack", q, controller.continuous_A, controller.burst_A});
    if (q == PackCurrent && (controller.continuous_A || controller.burst_A) && context.out.findings.size() == before)
        cannotJudge(context, id, {},
                    "the log has no motor current; the pack's, which is lower, stays within the rating");
}

struct SpeedLimit {
    std::string name, unit;
    double motor = 0.0; // rad/s of the motor at the limit
    double limit = 0.0; // in the unit
    int decimals = 0;
};

void judgeOverspeed(Context& context) {
    const std::string_view id = "motor-overspeed";
    if (!needs(context, id, {MotorSpeed})) return;
    if (!context.hasPlan) {
        cannotJudge(context, id, {}, "no plan was given, so no limit is known");
        return;
    }
    std::vector<SpeedLimit> limits;
    const PlanInput& plan = context.limits;
    if (plan.motor.max_speed_rpm)
        limits.push_back({"motor", "rpm", *plan.motor.max_speed_rpm * radpsPerRpm, *plan.motor.max_speed_rpm, 0});
    if (plan.controller.max_electrical_rpm) {
        const double pairs = plan.motor.poles / 2.0;
        limits.push_back({"electrical speed", "rpm", *plan.controller.max_electrical_rpm / pairs * radpsPerRpm,
                          *plan.controller.max_electrical_rpm, 0});
    }
    if (plan.tyre.max_speed_radps)
        limits.push_back({"tyres", "rad/s", *plan.tyre.max_speed_radps * context.ratio, *plan.tyre.max_speed_radps, 0});
    if (limits.empty()) {
        cannotJudge(context, id, {}, "the plan gives no limit of speed");
        return;
    }
    const auto speed = context[MotorSpeed];
    const auto tightest = std::min_element(limits.begin(), limits.end(),
                                           [](const SpeedLimit& a, const SpeedLimit& b) { return a.motor < b.motor; });
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        std::optional<Rows> run;
        forEachRun(
            context.rows(context.out.passes[p]), [&](std::size_t i) { return speed[i] > tightest->motor; },
            [&](Rows found) {
                if (found.count() >= 2 && (!run || found.count() > run->count())) run = found;
            });
        if (!run) continue;
        const auto worst = over(speed, *run, tightest->motor);
        std::string seen;
        for (const SpeedLimit& limit : limits)
            if (speed[worst->at] > limit.motor)
                seen += (seen.empty() ? "" : "; ") + limit.name + " at " +
                        number(speed[worst->at] / limit.motor * limit.limit, limit.decimals) + " " + limit.unit +
                        ", limit " + number(limit.limit, limit.decimals);
        seen[0] = static_cast<char>(std::toupper(seen[0]));
        reportPass(
            context, id, Severity::Act, p, {worst->at, run->first, run->last},
            {seen + ".", tightest->name + ": " + number(tightest->limit, 0) + " " + tightest->unit + " for 2 samples"},
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
