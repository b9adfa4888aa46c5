// Power that a controller takes away bit by bit because something gets hot. What shows it is the shape of the fall,
// not a temperature: controllers give way below their comfort too.
#include "core/review/findings.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

constexpr double around = 0.25; // s whose median is a reading: sensors flicker

// Over the quarter second up to a row, or from it on.
double before(const Context& context, Quantity q, Rows part, std::size_t row) {
    return medianOver(context[q], {rowAt(context.time, part, context.time[row] - around - timeEpsilon), row});
}
double after(const Context& context, Quantity q, Rows part, std::size_t row) {
    const std::size_t end = rowAt(context.time, part, context.time[row] + around + timeEpsilon);
    return medianOver(context[q], {row, std::max(row, end - 1)});
}

// Sensors are slow and coarse: over the whole span, or in the seconds before it.
bool heatsUp(const Context& context, Rows part, Rows span) {
    constexpr double lead = 3.0; // s
    const std::size_t early = rowAt(context.time, part, context.time[span.first] - lead);
    for (const Quantity q : {ControllerTemperature, MotorTemperature}) {
        if (!context.has(q)) continue;
        if (rangeOver(context[q], span).high > std::fmin(context[q][span.first], context[q][early])) return true;
    }
    return false;
}

// Parts of a pass over which an open throttle stays within two points.
std::vector<Rows> steadyParts(const Context& context, Rows rows) {
    const auto throttle = context[Throttle];
    std::vector<Rows> parts;
    SlidingRange range(throttle);
    std::size_t from = rows.first;
    const auto close = [&](std::size_t end) {
        if (end > from && throttle[from] > context.th.passThrottle) parts.push_back({from, end - 1});
        range.clear();
        from = end;
    };
    for (std::size_t i = rows.first; i <= rows.last; ++i) {
        range.push(i);
        if (range.range() <= context.th.cutoffThrottle + 1e-9) continue;
        close(i);
        range.push(i);
    }
    close(rows.last + 1);
    return parts;
}

class Finder {
public:
    Finder(const Context& context, const ReviewPass& pass, int cells)
        : context_(context)
        , cells_(cells)
        , output_(context[Output]) {
        const auto cutoff = context.cutoff(pass.session);
        least_ = cells * (cutoff ? *cutoff + context.th.limitedVoltage : context.th.cutoffUnknownVoltage);
    }

    void findIn(Rows part, std::vector<HeatFall>& found) const {
        std::size_t high = part.first;
        for (std::size_t i = part.first; i <= part.last; ++i) {
            if (!(output_[high] >= output_[i])) high = std::isnan(output_[i]) ? high : i;
            if (!(output_[high] - output_[i] >= context_.th.heatFall - 1e-9)) continue;
            const HeatFall fall = follow(part, high, i);
            if (byHeat(part, fall)) found.push_back(fall);
            i = fall.rows.last;
            high = std::min(i + 1, part.last);
        }
    }

private:
    // From the last sample within a point of where it stood until it is back, or the part ends.
    [[nodiscard]] HeatFall follow(Rows part, std::size_t high, std::size_t row) const {
        HeatFall fall;
        fall.stood = output_[high];
        fall.rows = {row, row};
        while (fall.rows.first > high && !(output_[fall.rows.first] >= fall.stood - context_.th.outputSteady - 1e-9))
            --fall.rows.first;
        fall.low = output_[row];
        while (fall.rows.last < part.last &&
               !(output_[fall.rows.last + 1] > fall.stood - context_.th.heatFall + 1e-9)) {
            ++fall.rows.last;
            fall.low = std::fmin(fall.low, output_[fall.rows.last]);
        }
        return fall;
    }

    [[nodiscard]] bool byHeat(Rows part, const HeatFall& fall) const {
        const ReviewThresholds& th = context_.th;
        constexpr double done = 0.9; // of the fall: its end creeps
        std::size_t end = fall.rows.first;
        while (!(output_[end] <= fall.stood - done * (fall.stood - fall.low) + 1e-9))
            ++end;
        if (context_.time[end] - context_.time[fall.rows.first] < th.heatSpan - timeEpsilon) return false;
        const double volts = before(context_, PackVoltage, part, fall.rows.first);
        if (!(volts > least_) || !(after(context_, PackVoltage, part, end) - volts > th.heatVoltageRise * cells_))
            return false;
        if (context_.has(PackCurrent) &&
            !(after(context_, PackCurrent, part, end) <
              (1.0 - th.limitedFlat) * before(context_, PackCurrent, part, fall.rows.first)))
            return false;
        return heatsUp(context_, part, fall.rows);
    }

    const Context& context_;
    int cells_;
    double least_ = 0.0; // V: the voltage is no reason
    std::span<const double> output_;
};

} // namespace

std::vector<HeatFall> heatFalls(const Context& context, std::size_t p) {
    const ReviewPass& pass = context.out.passes[p];
    std::vector<HeatFall> found;
    const auto cells = context.cells(pass.session);
    if (!cells) return found;
    const Finder finder(context, pass, *cells);
    for (const Rows part : steadyParts(context, context.rows(pass)))
        finder.findIn(part, found);
    std::erase_if(found, [&](const HeatFall& fall) { return meetsCut(context, p, fall.rows); });
    return found;
}

} // namespace rw::review
