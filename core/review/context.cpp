#include "core/review/context.h"

#include "core/parallel.h"
#include "core/plan/plan.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

Context::Context(const Log& theLog, const ReviewOptions& theOptions, std::stop_token theStop)
    : log(theLog)
    , options(theOptions)
    , th(theOptions.thresholds)
    , stop(std::move(theStop))
    , time(theLog.time) {
    constexpr std::size_t worthAThread = 50'000; // rows: starting one costs what some thousand rows cost
    if (log.rows() >= worthAThread) threads = threadCount(0);
    if (options.plan) {
        plan = *options.plan;
        hasPlan = true;
        ratio = fittedRatio(plan);
    }
    for (std::size_t q = 0; q < quantityCount; ++q)
        channel[q] = log.channels[q].values;
    pedal = has(Quantity::Throttle) ? (*this)[Quantity::Throttle] : (*this)[Quantity::Output];
}

void Context::mask(Quantity q, Rows rows) {
    const auto index = static_cast<std::size_t>(q);
    if (q == Quantity::PackCurrent || q == Quantity::MotorSpeed || q == Quantity::Throttle || q == Quantity::Output)
        rules.clear(); // they were made from it
    if (cleaned[index].empty()) {
        cleaned[index].assign(channel[index].begin(), channel[index].end());
        channel[index] = cleaned[index];
        pedal = has(Quantity::Throttle) ? (*this)[Quantity::Throttle] : (*this)[Quantity::Output];
    }
    std::fill(cleaned[index].begin() + static_cast<std::ptrdiff_t>(rows.first),
              cleaned[index].begin() + static_cast<std::ptrdiff_t>(rows.last + 1), nan);
}

double Context::wheelSpeed(std::size_t row) const {
    const double wheel = (*this)[Quantity::MotorSpeed][row] / ratio; // rad/s
    return wheel * tyreOf(plan).radiusAt(wheel);
}

Rows Context::after(std::size_t pass) const {
    const ReviewPass& p = out.passes[pass];
    std::size_t last = scale[p.session].rows.last;
    if (pass + 1 < out.passes.size() && out.passes[pass + 1].session == p.session) last = out.passes[pass + 1].startRow;
    return {p.endRow, last};
}

RestRule restRule(const Context& context, Rows rows) {
    for (const auto& [known, rule] : context.rules)
        if (known == rows) return rule;
    const ReviewThresholds& th = context.th;
    RestRule rule{
        context[Quantity::PackCurrent], context.pedal, context[Quantity::MotorSpeed], {}, 0.0, 0.0, th.restThrottle};
    if (rule.current.empty()) return rule;
    const auto still = [&](std::size_t i) {
        return (rule.pedal.empty() || rule.pedal[i] < th.restThrottle) &&
               (rule.motorSpeed.empty() || rule.motorSpeed[i] == 0.0);
    };
    double zero = nan;
    if (!rule.pedal.empty() || !rule.motorSpeed.empty()) zero = medianWhere(rule.current, rows, still);
    const auto largest = [&](double offset) {
        TopQuantile top(rows.count(), th.largestQuantile);
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            top.add(std::abs(rule.current[i] - offset));
        return top.value();
    };
    const double offset = std::isnan(zero) ? 0.0 : zero;
    rule.largestCurrent = largest(offset);
    if (std::isnan(rule.largestCurrent)) { // no current was read here
        rule.current = {};
        rule.largestCurrent = 0.0;
        return rule;
    }
    if (!std::isnan(zero) && std::abs(zero) <= th.zeroOffsetShare * rule.largestCurrent)
        rule.zero = zero;
    else if (offset != 0.0)
        rule.largestCurrent = largest(0.0);
    rule.restCurrent = std::max(th.restCurrentShare * rule.largestCurrent, th.restCurrentFloor);
    return rule;
}

} // namespace rw::review
