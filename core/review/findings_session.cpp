// What concerns a session or the log as a whole: restarts, faulty sensors, the logging rate, a pack's age.
#include "core/review/findings.h"

#include "core/log/quantity.h"
#include "core/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

void judgeRestarts(Context& context) {
    for (std::size_t s = 0; s < context.scale.size(); ++s)
        for (const std::size_t row : context.out.sessions[s].restarts) {
            const double gap = context.log.time[row] - context.log.time[row - 1];
            const Sentence seen =
                gap > 0.0 ? "The log breaks off under way and goes on " + seconds(gap, 1) +
                                " later with the motor still turning."
                          : "The log breaks off under way and its clock starts anew with the motor still turning.";
            const Sentence threshold = "motor turning before and after, within " + seconds(context.th.restartWithin, 0);
            std::optional<std::size_t> pass;
            for (std::size_t p = 0; p < context.out.passes.size(); ++p)
                if (context.rows(context.out.passes[p]).holds(row - 1)) pass = p;
            if (pass)
                reportPass(context, "controller-restarted", Severity::Act, *pass, {row, row - 1, row},
                           {seen, threshold}, PackVoltage);
            else
                reportSession(context, "controller-restarted", Severity::Act, s, {row, row - 1, row}, {seen, threshold},
                              PackVoltage);
        }
    if (!context.has(MotorSpeed)) cannotJudge(context, "controller-restarted", {}, "the log has no motor speed");
}

Sentence readings(const Context& context, const FaultSpan& fault) {
    if (fault.kind == FaultSpan::Kind::Missing) return {};
    return " at " + reading(fault.quantity, context.log[fault.quantity].values[fault.startRow]);
}

// What is seen, and by which threshold.
std::pair<std::string_view, Sentence> faultWords(const ReviewThresholds& th, FaultSpan::Kind kind) {
    switch (kind) {
    case FaultSpan::Kind::Stuck:
        return {"stood still while the car did not",
                seconds(th.stuckSpan, 0) + " and " + plain(th.stuckSamples) + " samples on one value"};
    case FaultSpan::Kind::Clipped:
        return {"ran into the end of its range", plain(th.clippedSamples) + " samples at exactly the largest value"};
    case FaultSpan::Kind::Missing:
        return {"is missing",
                seconds(th.missingSpan, 0) + " and " + plain(th.missingIntervals) + " intervals within a pass"};
    case FaultSpan::Kind::Impossible:
        break;
    }
    return {"read what cannot be",
            "the channel's possible range, its possible rate, or one sample off both neighbours"};
}

void reportFaults(Context& context) {
    for (const FaultSpan& fault : context.out.faults) {
        std::optional<std::size_t> pass;
        for (std::size_t p = 0; p < context.out.passes.size(); ++p)
            if (context.rows(context.out.passes[p]).meets({fault.startRow, fault.endRow})) pass = pass ? pass : p;
        const double lasts = context.time[fault.endRow] - context.time[fault.startRow];
        const auto [what, threshold] = faultWords(context.th, fault.kind);
        Sentence seen = std::string(quantityInfo(fault.quantity).name) + " " + std::string(what) +
                        readings(context, fault) +
                        (fault.startRow == fault.endRow ? " in one sample." : " for " + seconds(lasts) + ".");
        const Evidence rows{fault.startRow, fault.startRow, fault.endRow};
        const Words words{seen.upperFirst(), threshold};
        if (pass)
            reportPass(context, "sensor-fault", Severity::Watch, *pass, rows, words, fault.quantity);
        else
            reportSession(context, "sensor-fault", Severity::Watch, fault.session, rows, words, fault.quantity);
    }
}

// Peaks and rises that a session has figures for, by the names that people read.
std::string lowerBounds(const Context& context, std::size_t session) {
    constexpr auto bounds = std::to_array<std::pair<std::optional<double> ReviewPass::*, const char*>>(
        {{&ReviewPass::peakCurrent, "peak current"},
         {&ReviewPass::motorPeakCurrent, "peak motor current"},
         {&ReviewPass::peakPower, "peak power"},
         {&ReviewPass::sag, "sag"},
         {&ReviewPass::ripplePeak, "peak ripple"},
         {&ReviewPass::motorPeakSpeed, "peak motor speed"}});
    std::string names;
    for (const auto& bound : bounds)
        if (std::ranges::any_of(context.out.passes,
                                [&](const ReviewPass& p) { return p.session == session && p.*bound.first; }))
            names += (names.empty() ? "" : ", ") + std::string(bound.second);
    return names.empty() ? "" : "; lower bounds: " + names;
}

// What a session's rate is too low for; none: it shows peaks and rises.
struct Sampling {
    double rate = 0.0, rise = 0.0; // Hz, s
    bool few = false;              // samples across the rise
};
std::optional<Sampling> tooSlow(const Context& context, std::size_t session) {
    const ReviewThresholds& th = context.th;
    std::vector<double> rises;
    bool passes = false;
    for (const ReviewPass& pass : context.out.passes) {
        if (pass.session != session) continue;
        passes = true;
        if (const auto rise = pass.throttleRise ? pass.throttleRise : pass.outputRise) rises.push_back(*rise);
    }
    const double step = context.scale[session].medianStep;
    if (!passes || !(step > 0.0)) return {};
    Sampling found{1.0 / step, medianOf(rises)};
    found.few = found.rise * found.rate < th.slowSamples - 1e-9;
    if (!found.few && found.rate >= th.slowRate - 1e-9) return {};
    return found;
}

void judgeSampling(Context& context) {
    const ReviewThresholds& th = context.th;
    for (std::size_t s = 0; s < context.scale.size(); ++s) {
        const auto found = tooSlow(context, s);
        if (!found) continue;
        const Rows rows = context.scale[s].rows;
        Sentence seen = plain(found->rate, 1) + " samples a second";
        if (found->few)
            seen += ", " + plain(found->rise * found->rate, 1) + " across a throttle rise of " + seconds(found->rise);
        reportSession(context, "sampled-too-slowly", Severity::Note, s, {rows.first, rows.first, rows.last},
                      {seen + lowerBounds(context, s) + ".", plain(th.slowSamples) + " samples across the rise, " +
                                                                 plain(th.slowRate) + " samples a second"});
    }
}

void judgeAge(Context& context) {
    const std::string_view id = "pack-ageing";
    if (!needs(context, id, {PackVoltage, PackCurrent})) return;
    const auto& own = context.options.sessionPackHistory;
    if (context.options.packHistory.empty() && std::ranges::all_of(own, [](const auto& one) { return one.empty(); })) {
        cannotJudge(context, id, {}, "the pack has no history");
        return;
    }
    for (std::size_t s = 0; s < context.scale.size(); ++s) {
        const std::vector<HistoryValue>& history = s < own.size() ? own[s] : context.options.packHistory;
        std::vector<double> now, heat;
        std::size_t first = 0, last = 0;
        for (const ReviewPass& pass : context.out.passes) {
            if (pass.session != s || !pass.packResistance) continue;
            if (now.empty()) first = pass.startRow;
            last = pass.endRow;
            now.push_back(*pass.packResistance);
            if (pass.pack.start) heat.push_back(*pass.pack.start);
        }
        if (now.empty()) {
            cannotJudge(context, id, s, "no pass of the session tells a resistance");
            continue;
        }
        const double temperature = medianOf(heat);
        std::vector<double> before;
        for (const HistoryValue& value : history)
            if (std::isnan(temperature)
                    ? !value.temperature
                    : value.temperature && std::abs(*value.temperature - temperature) <= context.th.ageingTemperature)
                before.push_back(value.value);
        if (before.empty()) {
            cannotJudge(context, id, s, "the pack's history has nothing at a like temperature");
            continue;
        }
        const double old = medianOf(before), seen = medianOf(now);
        if (!(seen > (1.0 + context.th.ageing) * old)) continue;
        reportSession(context, id, Severity::Watch, s, {first, first, last},
                      {"The pack's resistance is " + SaidNumber{seen, Dimension::Resistance, 1} + ", " +
                           percent(seen / old - 1.0) + " over its history.",
                       percent(context.th.ageing) + " over its history at like temperature"},
                      PackVoltage);
    }
}

} // namespace

bool sampledTooSlowly(const Context& context, std::size_t session) { return tooSlow(context, session).has_value(); }

void judgeSession(Context& context) {
    judgeRestarts(context);
    reportFaults(context);
    judgeSampling(context);
    if (!context.out.passes.empty()) judgeAge(context);
}

} // namespace rw::review
