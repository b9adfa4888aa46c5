// The figures of each pass.
#include "core/log/integrals.h"
#include "core/parallel.h"
#include "core/review/context.h"
#include "core/review/pass_fits.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

struct Extreme {
    std::size_t row = 0;
    double value = nan;
};
template<class Value>
Extreme largestOf(Rows rows, Value value) {
    Extreme found;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        if (const double v = value(i); v > found.value || (std::isnan(found.value) && v == v)) found = {i, v};
    return found;
}
template<class Value>
Extreme smallestOf(Rows rows, Value value) {
    Extreme found = largestOf(rows, [&](std::size_t i) { return -value(i); });
    found.value = -found.value;
    return found;
}

std::optional<double> known(double value) { return std::isnan(value) ? std::nullopt : std::optional<double>(value); }

std::optional<double> peak(const Context& context, Quantity q, Rows rows) {
    if (!context.has(q)) return {};
    return known(largestOf(rows, [&](std::size_t i) { return context[q][i]; }).value);
}

// Over the samples that are there: a hole that is no gap is bridged.
class Integrator {
public:
    template<class Value>
    Integral over(const Context& context, std::size_t session, Rows rows, Value value) {
        times_.clear();
        values_.clear();
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            if (const double v = value(i); v == v) {
                times_.push_back(context.time[i]);
                values_.push_back(v);
            }
        return integrate(times_, values_, context.scale[session].gapLimit);
    }

private:
    std::vector<double> times_, values_;
};

double crossing(const Context& context, std::span<const double> values, std::size_t below, std::size_t above,
                double level) {
    const double share = (level - values[below]) / (values[above] - values[below]);
    return context.time[below] + share * (context.time[above] - context.time[below]);
}

// 10 → 90 % of the step from the level at the pass's start to the largest, straight between samples.
std::optional<double> riseTime(const Context& context, const ReviewPass& pass, Quantity q) {
    if (!context.has(q) || pass.cutAtStart) return {};
    const auto values = context[q];
    const Rows rows = context.rows(pass);
    const Extreme top = largestOf(rows, [&](std::size_t i) { return values[i]; });
    const double level = values[rows.first], step = top.value - level;
    if (!(step > 0.0) || (!pass.complete && top.row == rows.last)) return {}; // cut before it got there
    const double low = level + 0.1 * step, high = level + 0.9 * step;
    std::size_t above = rows.first + 1;
    while (!(values[above] >= high))
        ++above;
    std::size_t below = above;
    while (!(values[below] <= low))
        --below;
    std::size_t before = above - 1, after = below + 1;
    while (std::isnan(values[before]))
        --before;
    while (std::isnan(values[after]))
        ++after;
    for (std::size_t i = below; i < above; ++i)
        if (context.time[i + 1] - context.time[i] > context.scale[pass.session].gapLimit) return {};
    return crossing(context, values, before, above, high) - crossing(context, values, below, after, low);
}

void measureOutput(const Context& context, ReviewPass& pass) {
    pass.throttleRise = riseTime(context, pass, Throttle);
    pass.outputRise = riseTime(context, pass, Output);
    if (!context.has(Output)) return;
    const auto output = context[Output];
    const Rows rows = context.rows(pass);
    pass.outputMax = peak(context, Output, rows);
    if (!pass.outputMax) return;
    const double full = fullLevel(context, Output);
    Integrator integrator;
    pass.fullOutput = integrator
                          .over(context, pass.session, rows,
                                [&](std::size_t i) {
                                    return std::isnan(output[i]) ? nan : output[i] >= full ? 1.0 : 0.0;
                                })
                          .net;
    const auto atFull = [&](std::size_t i) { return output[i] >= full; };
    if (context.has(PackCurrent)) pass.fullOutputCurrent = known(medianWhere(context[PackCurrent], rows, atFull));
    if (!context.has(MotorSpeed) || !context.has(PackVoltage)) return;
    std::vector<double> all;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        if (const double perVolt = context[MotorSpeed][i] * rpmPerRadps / context[PackVoltage][i];
            atFull(i) && std::isfinite(perVolt))
            all.push_back(perVolt);
    pass.rpmPerVolt = known(medianOf(all));
}

void measureRest(const Context& context, ReviewPass& pass) {
    const RestRule& rest = context.scale[pass.session].rest;
    const Rows session = context.scale[pass.session].rows;
    const auto voltage = context[PackVoltage];
    std::size_t last = pass.startRow + 1;
    while (last > session.first && !(rest.at(last - 1) && !std::isnan(voltage[last - 1])))
        --last;
    if (last == session.first) return;
    --last;
    std::size_t first = last;
    while (first > session.first &&
           context.time[last] - context.time[first - 1] <= context.th.restingSpan + timeEpsilon)
        --first;
    pass.restingVoltage = known(medianWhere(voltage, {first, last}, [&](std::size_t i) { return rest.at(i); }));
    for (std::size_t i = first;
         i-- > session.first && context.time[first] - context.time[i] < context.th.restingRecovery;)
        if (!rest.at(i) && restKnown(context, pass.session, i)) pass.restingRecovering = true;
}

void measurePack(const Context& context, ReviewPass& pass, std::size_t index) {
    const Rows rows = context.rows(pass);
    Integrator integrator;
    if (context.has(PackVoltage)) {
        measureRest(context, pass);
        const auto voltage = context[PackVoltage];
        pass.minVoltage = known(smallestOf(rows, [&](std::size_t i) { return voltage[i]; }).value);
        if (const auto cells = context.cells(pass.session); cells && pass.minVoltage)
            pass.minCellVoltage = *pass.minVoltage / *cells;
        if (pass.restingVoltage && pass.minVoltage) pass.sag = *pass.restingVoltage - *pass.minVoltage;
    }
    if (context.has(PackCurrent)) {
        const auto current = context[PackCurrent];
        const auto value = [&](std::size_t i) { return current[i]; };
        pass.peakCurrent = peak(context, PackCurrent, rows);
        if (const Integral sum = integrator.over(context, pass.session, rows, value); sum.covered > 0.0) {
            pass.charge = sum.net;
            pass.meanCurrent = sum.net / sum.covered;
            const Rows after = context.after(index);
            const bool any = smallestOf({rows.first, after.last}, value).value < 0.0;
            pass.chargeBack =
                any ? std::abs(integrator.over(context, pass.session, {rows.first, after.last}, value).negative) : 0.0;
        }
    }
    if (context.hasPower()) {
        const auto value = [&](std::size_t i) { return context.power(i); };
        pass.peakPower = known(largestOf(rows, value).value);
        if (const Integral sum = integrator.over(context, pass.session, rows, value); sum.covered > 0.0)
            pass.energy = sum.net;
    }
    pass.motorPeakCurrent = peak(context, MotorCurrent, rows);
    if (context.has(RippleVoltage)) {
        const Extreme ripple = largestOf(rows, [&](std::size_t i) { return context[RippleVoltage][i]; });
        pass.ripplePeak = known(ripple.value);
        if (pass.ripplePeak && context.has(PackVoltage))
            pass.rippleShare = known(ripple.value / context[PackVoltage][ripple.row]);
    }
    if (context.has(ReceiverVoltage))
        pass.receiverMin = known(smallestOf(rows, [&](std::size_t i) { return context[ReceiverVoltage][i]; }).value);
    if (const auto found = packResistance(context, pass, context.cut[index])) {
        pass.packResistance = found->ohm;
        pass.packResistanceError = found->standardError;
    }
}

// Mean speed over the plan's timed zone, by distance from the pass's start.
std::optional<double> zoneSpeed(const Context& context, const ReviewPass& pass, std::span<const double> speed) {
    if (!context.planCounts(pass.session)) return {};
    const auto& venue = context.plan.venue;
    const double entry = venue.run_up_m, exit = entry + venue.timed_m;
    double distance = 0.0, entered = nan;
    std::optional<std::size_t> before;
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i) {
        if (std::isnan(speed[i - pass.startRow])) continue;
        if (before) {
            const double step = context.time[i] - context.time[*before];
            if (step > context.scale[pass.session].gapLimit) return {};
            const double gone = 0.5 * (speed[i - pass.startRow] + speed[*before - pass.startRow]) * step;
            const auto when = [&](double mark) { return context.time[*before] + (mark - distance) / gone * step; };
            if (std::isnan(entered) && distance + gone >= entry) entered = when(entry);
            if (distance + gone >= exit) return venue.timed_m / (when(exit) - entered);
            distance += gone;
        }
        before = i;
    }
    return {};
}

// As the receiver wrote it: a fix between two rows counts, and no value between two fixes does.
std::optional<double> measuredPeak(const Context& context, Rows rows) {
    const auto from = std::ranges::lower_bound(context.fixTime, context.time[rows.first]);
    const auto to = std::upper_bound(from, context.fixTime.end(), context.time[rows.last]);
    if (from == to) return known(largestOf(rows, [&](std::size_t i) { return context.out.groundSpeed[i]; }).value);
    const auto first = context.fixSpeed.begin() + (from - context.fixTime.begin());
    return *std::max_element(first, first + (to - from));
}

// Distance and zone speed by one of the speeds; false where it does not cover the pass from its start to its end.
template<class Speed>
bool measureWay(const Context& context, ReviewPass& pass, Speed at) {
    const Rows rows = context.rows(pass);
    std::vector<double> speed;
    for (std::size_t i = rows.first; i <= rows.last; ++i)
        speed.push_back(at(i));
    Integrator integrator;
    const Integral sum =
        integrator.over(context, pass.session, rows, [&](std::size_t i) { return speed[i - rows.first]; });
    const double missing = context.time[rows.last] - context.time[rows.first] - pass.gap - sum.covered;
    if (!(sum.covered > 0.0) || missing > context.scale[pass.session].gapLimit + timeEpsilon) return false;
    pass.distance = sum.net;
    pass.zoneSpeed = zoneSpeed(context, pass, speed);
    return true;
}

void measureSpeed(const Context& context, ReviewPass& pass, std::size_t index) {
    const Rows rows = context.rows(pass);
    pass.motorPeakSpeed = peak(context, MotorSpeed, rows);
    if (context.hasWheelSpeed(pass.session)) {
        pass.wheelPeakFree = known(largestOf(rows, [&](std::size_t i) { return context.wheelSpeed(i); }).value);
        const auto held = [&](std::size_t i) { return context.wheelsHold(index, i) ? context.wheelSpeed(i) : nan; };
        pass.wheelPeak = known(largestOf(rows, held).value);
    }
    const auto& ground = context.out.groundSpeed;
    if (!ground.empty()) {
        pass.speedPeak = measuredPeak(context, rows);
        pass.speedPeakLowerBound = pass.speedPeak && context.out.groundSpeedSlow;
        if (pass.speedPeak && measureWay(context, pass, [&](std::size_t i) { return ground[i]; })) return;
    }
    if (context.hasWheelSpeed(pass.session))
        measureWay(context, pass, [&](std::size_t i) { return context.wheelSpeed(i); });
}

// The reading at a row, else the last one before it within the channel's reach.
double readingAt(std::span<const double> values, Rows session, std::size_t row) {
    std::size_t i = row;
    while (i > session.first && std::isnan(values[i]))
        --i;
    return values[i];
}

double coolest(std::span<const double> values, Rows rows) {
    return smallestOf(rows, [&](std::size_t i) { return values[i]; }).value;
}

void predict(const Context& context, const ReviewPass& pass, Quantity q, Rows after, ReviewPass::Temperature& t) {
    const auto values = context[q];
    constexpr std::size_t mostReadings = 160;
    const double apart =
        std::max(context.log[q].interval_s, (context.time[after.last] - context.time[after.first]) / mostReadings);
    std::vector<double> times, readings;
    double next = 0.0;
    for (std::size_t i = after.first; i <= after.last; ++i) {
        const double since = context.time[i] - context.time[after.first];
        if (std::isnan(values[i]) || since < next - timeEpsilon) continue;
        times.push_back(since);
        readings.push_back(values[i]);
        next = since + apart;
    }
    const double air = context.planCounts(pass.session) ? kelvinFromCelsius(context.plan.air.temperature_C)
                                                        : coolest(values, context.scale[pass.session].rows);
    const bool taught = context.taught() && context.planCounts(pass.session);
    const auto found = taught ? predictTaughtSoak(times, readings, air, context.log[q].step, context.foretelling())
                              : predictSoak(times, readings, air, context.log[q].step);
    if (!found || found->standardError >= context.th.soakPredictionError) return;
    t.soakPredicted = std::max(found->peak, t.soak.value_or(found->peak));
    t.soakPredictedError = found->standardError;
}

ReviewPass::Temperature measureHeat(const Context& context, const ReviewPass& pass, std::size_t index, Quantity q) {
    ReviewPass::Temperature t;
    if (!context.has(q)) return t;
    const auto values = context[q];
    const Rows session = context.scale[pass.session].rows;
    t.start = known(readingAt(values, session, pass.startRow));
    t.max = peak(context, q, context.rows(pass));
    t.end = known(readingAt(values, session, pass.endRow));
    if (t.start && t.max) t.rise = *t.max - *t.start;
    const Rows after = context.after(index);
    const Extreme soak = largestOf(after, [&](std::size_t i) { return values[i]; });
    t.soak = known(soak.value);
    if (!t.soak) return t;
    t.soakAfter = context.time[soak.row] - context.time[after.first];
    for (std::size_t i = soak.row; i <= after.last && !t.soakComplete; ++i) {
        const double fallen = soak.value - values[i];
        t.soakComplete = fallen >= context.th.soakFall - 1e-9 && fallen > context.log[q].step + 1e-6;
    }
    if (q == MotorTemperature && !t.soakComplete) predict(context, pass, q, after, t);
    return t;
}

void measureTime(const Context& context, ReviewPass& pass) {
    const Rows rows = context.rows(pass);
    const double step = medianStep(context.time.subspan(rows.first, rows.count()));
    pass.rate = step > 0.0 ? 1.0 / step : 0.0;
    for (std::size_t i = rows.first; i < rows.last; ++i)
        if (const double hole = context.time[i + 1] - context.time[i]; hole > context.scale[pass.session].gapLimit)
            pass.gap += hole;
}

} // namespace

void measurePasses(Context& context) {
    auto& passes = context.out.passes;
    parallelFor(context.threads, passes.size(), [&](std::size_t p, bool) {
        ReviewPass& pass = passes[p];
        measureTime(context, pass);
        measureOutput(context, pass);
        measurePack(context, pass, p);
        measureSpeed(context, pass, p);
        pass.controller = measureHeat(context, pass, p, ControllerTemperature);
        pass.motor = measureHeat(context, pass, p, MotorTemperature);
        pass.pack = measureHeat(context, pass, p, PackTemperature);
        context.poll();
    });
}

} // namespace rw::review
