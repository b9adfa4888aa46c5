#include "core/review/review.h"

#include "core/review/context.h"
#include "core/review/findings.h"

#include <array>
#include <cmath>

namespace rw {

namespace {

using review::Context;

void noteCells(Context& context) {
    for (std::size_t s = 0; s < context.scale.size(); ++s) {
        const ReviewSession& session = context.out.sessions[s];
        const std::string rests = "Session " + std::to_string(s + 1) + " rests at " +
                                  review::number(session.restingVoltage.value_or(0.0), 2) + " V";
        const int planned = context.plan.pack.series;
        const std::string plans = review::counted(planned, "cell", "cells");
        const double cell = session.restingVoltage.value_or(0.0);
        if (context.options.plan && !session.planFits)
            context.note(rests + ", " + review::number(cell / planned, 2) + " V per cell with the plan's " + plans +
                         ": the plan does not fit this log, and its limits do not count.");
        if (session.cellsByVoltage)
            context.note(rests + ": with the plan's " + plans + " that is " + review::number(cell / planned, 2) +
                         " V per cell, by the voltage alone it would be " +
                         review::counted(*session.cellsByVoltage, "cell", "cells") + " at " +
                         review::number(cell / *session.cellsByVoltage, 2) + " V. Tell which with --cells.");
        if (context.scale[s].nearlyEmpty)
            context.note(
                rests +
                ": no cell count fits at 3.5 to 4.25 V per cell, so 3.0 to 3.5 V, a nearly empty pack, was tried.");
    }
}

void noteNoPass(Context& context) {
    double throttle = 0.0, power = 0.0;
    for (const auto& scale : context.scale) {
        throttle = std::max(throttle, std::isnan(scale.largestThrottle) ? 0.0 : scale.largestThrottle);
        power = std::max(power, std::isnan(scale.largestPower) ? 0.0 : scale.largestPower);
    }
    std::string seen;
    if (!context.pedal.empty())
        seen += std::string(context.has(Quantity::Throttle) ? "largest throttle " : "largest output ") +
                review::number(100.0 * throttle, 0) + " %";
    if (context.hasPower()) seen += (seen.empty() ? "" : ", ") + ("largest power " + review::number(power, 0) + " W");
    context.note("No pass was found" +
                 (seen.empty() ? "; the log has neither throttle, output nor power." : ": " + seen + "."));
}

// The log's own count of charge beside the integral of current.
void noteCharge(Context& context) {
    const auto given = context[Quantity::Charge];
    if (given.empty()) return;
    double told = 0.0, integrated = 0.0;
    for (const ReviewPass& pass : context.out.passes) {
        const double used = given[pass.endRow] - given[pass.startRow];
        if (!pass.charge || std::isnan(used)) continue;
        told += used;
        integrated += *pass.charge;
    }
    if (integrated > 0.0 && std::abs(told - integrated) > context.th.chargeApart * integrated)
        context.note("Over the passes the log counts " + review::number(told / 3.6, 0) +
                     " mAh, its current adds up to " + review::number(integrated / 3.6, 0) +
                     " mAh: one of the two is wrong.");
}

void noteRest(Context& context) {
    noteCells(context);
    if (context.out.passes.empty()) noteNoPass(context);
    noteCharge(context);
    if (!context.hasPlan)
        context.note(std::string(context.options.plan ? "The plan does not fit" : "No plan was given") +
                     ": limits of heat are the defaults, motor and controller 80 and 100 °C, pack 50 and 60 °C.");
    if (context.taught())
        context.note(
            "What is foretold here (off-plan, the motor's soak, what a cutoff cost, the wait) comes from what logs "
            "taught" +
            (context.options.learnedFrom.empty() ? std::string(" of this setup.")
                                                 : ": " + context.options.learnedFrom + "."));
    if (context.out.groundSpeedSlow && !context.out.groundSpeed.empty())
        context.note("Measured speed comes with fewer than 5 values a second: its peak is a lower bound.");
}

// A plan whose pack cannot be the one of any session is another car's.
void dropPlanThatDoesNotFit(Context& context) {
    const auto& sessions = context.out.sessions;
    if (!context.hasPlan || std::ranges::any_of(sessions, &ReviewSession::planFits)) return;
    context.hasPlan = false;
    context.ratio = 0.0;
    context.out.cutoffCell = context.options.cutoffCell;
}

} // namespace

std::string_view severityName(Severity severity) {
    constexpr std::array<std::string_view, 3> names{"note", "watch", "act"};
    return names.at(static_cast<std::size_t>(severity));
}

LogReview reviewLog(const Log& log, const ReviewOptions& options, std::stop_token stop) {
    Context context(log, options, std::move(stop));
    if (options.cutoffCell)
        context.out.cutoffCell = options.cutoffCell;
    else if (options.plan && options.plan->controller.cutoff.mode != CutoffMode::Off)
        context.out.cutoffCell = options.plan->controller.cutoff.cell_V;
    if (log.rows() == 0) return std::move(context.out);
    review::findImpossible(context);
    review::cutSessions(context);
    review::findTooQuick(context);
    review::measureSessions(context);
    if (review::findFrozen(context)) review::measureSessions(context);
    dropPlanThatDoesNotFit(context);
    review::cutPasses(context);
    review::findMissing(context);
    review::alignTrack(context);
    review::findWheelSpans(context);
    review::findCutoffSpans(context);
    review::measurePasses(context);
    review::findAll(context);
    noteRest(context);
    return std::move(context.out);
}

std::span<const double> reviewTime(const Log& log, const LogReview& review) {
    return review.time.empty() ? std::span<const double>(log.time) : std::span<const double>(review.time);
}

} // namespace rw
