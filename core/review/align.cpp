#include "core/review/align.h"

#include "core/log/gps.h"
#include "core/review/context.h"

#include <unsupported/Eigen/FFT>

#include <cmath>
#include <complex>
#include <numeric>

namespace rw::review {

namespace {

constexpr double finestGrid = 0.1;           // s
constexpr std::size_t mostPoints = 1U << 18; // of the grid: seven hours at a tenth of a second

struct Grid {
    std::vector<double> value, mask; // 0 where the mask is 0
};

Grid layOnGrid(const SpeedSignal& signal, double step, std::size_t points) {
    Grid grid{std::vector<double>(points), std::vector<double>(points)};
    std::size_t from = 0;
    double sum = 0.0, count = 0.0;
    for (std::size_t i = 0; i < points; ++i) {
        const double v = signalAt(signal, signal.time.front() + static_cast<double>(i) * step, from);
        if (std::isnan(v)) continue;
        grid.value[i] = v;
        grid.mask[i] = 1.0;
        sum += v;
        count += 1.0;
    }
    for (std::size_t i = 0; i < points; ++i) // about the mean: the sums below cancel less
        if (grid.mask[i] > 0.0) grid.value[i] -= sum / count;
    return grid;
}

using Spectrum = std::vector<std::complex<double>>;
Spectrum spectrum(Eigen::FFT<double>& fft, std::vector<double> values, std::size_t size) {
    values.resize(size);
    Spectrum result;
    fft.fwd(result, values);
    return result;
}
// Σ_i a[i + lag] b[i] for every lag, cyclic.
std::vector<double> correlate(Eigen::FFT<double>& fft, const Spectrum& a, const Spectrum& b) {
    Spectrum product(a.size());
    for (std::size_t i = 0; i < a.size(); ++i)
        product[i] = a[i] * std::conj(b[i]);
    std::vector<double> result;
    fft.inv(result, product);
    return result;
}

std::vector<double> squares(const std::vector<double>& values) {
    std::vector<double> result(values);
    for (double& v : result)
        v *= v;
    return result;
}

double duration(const SpeedSignal& signal) { return signal.time.back() - signal.time.front(); }

// Pearson's correlation over the samples of the first signal that the second, shifted, covers too.
double correlationAt(const SpeedSignal& wheels, const SpeedSignal& track, double offset, std::size_t stride) {
    Line line;
    std::size_t from = 0;
    for (std::size_t i = 0; i < wheels.time.size(); i += stride) {
        const double x = wheels.speed[i], y = signalAt(track, wheels.time[i] - offset, from);
        if (!std::isnan(x) && !std::isnan(y)) line.add(x, y);
    }
    return line.xx > 0.0 && line.yy > 0.0 ? line.xy / std::sqrt(line.xx * line.yy) : -1.0;
}

struct Lag {
    std::ptrdiff_t steps = 0; // that the second signal is late
    double correlation = 0.0, covered = 0.0;
};

// Passes look alike: a track laid one pass too far may follow the pass that is left a hair better. Of what follows
// nearly as well as the best, the lag that covers most counts.
std::optional<Lag> widestOfTheBest(const std::vector<Lag>& lags) {
    constexpr double nearlyAsWell = 0.01, nearlyAsMuch = 0.95;
    double best = -1.0, most = 0.0;
    for (const Lag& lag : lags)
        best = std::max(best, lag.correlation);
    for (const Lag& lag : lags)
        if (lag.correlation >= best - nearlyAsWell) most = std::max(most, lag.covered);
    std::optional<Lag> chosen;
    for (const Lag& lag : lags)
        if (lag.correlation >= best - nearlyAsWell && lag.covered >= nearlyAsMuch * most &&
            (!chosen || lag.correlation > chosen->correlation))
            chosen = lag;
    return chosen;
}

std::optional<Lag> bestLag(const Grid& wheels, const Grid& track) {
    std::size_t size = 1;
    while (size < wheels.value.size() + track.value.size())
        size *= 2;
    Eigen::FFT<double> fft;
    const Spectrum x = spectrum(fft, wheels.value, size), mx = spectrum(fft, wheels.mask, size),
                   xx = spectrum(fft, squares(wheels.value), size);
    const Spectrum y = spectrum(fft, track.value, size), my = spectrum(fft, track.mask, size),
                   yy = spectrum(fft, squares(track.value), size);
    const auto count = correlate(fft, mx, my), sumX = correlate(fft, x, my), sumY = correlate(fft, mx, y);
    const auto squareX = correlate(fft, xx, my), squareY = correlate(fft, mx, yy), product = correlate(fft, x, y);
    double total = 0.0;
    for (const double v : wheels.value)
        total += v * v;
    constexpr double leastPoints = 20.0, leastVariation = 0.5;
    std::vector<Lag> lags;
    for (std::size_t i = 0; i < size; ++i) {
        const double n = std::round(count[i]);
        if (n < leastPoints) continue;
        const double varX = squareX[i] - sumX[i] * sumX[i] / n, varY = squareY[i] - sumY[i] * sumY[i] / n;
        if (varX < leastVariation * total || varY <= 0.0) continue;
        const auto steps = static_cast<std::ptrdiff_t>(i) - static_cast<std::ptrdiff_t>(i < size / 2 ? 0 : size);
        lags.push_back({steps, (product[i] - sumX[i] * sumY[i] / n) / std::sqrt(varX * varY), varX / total});
    }
    return widestOfTheBest(lags);
}

// Stretches of sessions over which the log's own clock only grows: one offset holds for each.
std::vector<Rows> clockStretches(const Context& context) {
    std::vector<Rows> stretches;
    for (const SessionScale& scale : context.scale) {
        const std::size_t row = scale.rows.first;
        if (stretches.empty() || context.log.time[row] < context.log.time[row - 1])
            stretches.push_back(scale.rows);
        else
            stretches.back().last = scale.rows.last;
    }
    return stretches;
}

struct Placed {
    Rows rows;
    std::optional<Alignment> found;
    [[nodiscard]] double score() const { return found ? found->correlation * found->covered : -1.0; }
};

// When a stretch was driven by the track's clock.
struct Span {
    double from = 0.0, to = 0.0;
};
Span onTrack(const Context& context, const Placed& placed) {
    return {context.time[placed.rows.first] - placed.found->offset,
            context.time[placed.rows.last] - placed.found->offset};
}

// Every stretch by itself; then, the surest first, in the order in which they were driven: one that would lie across a
// surer one is looked for again in what that one leaves.
std::vector<Placed> placeStretches(Context& context, std::span<const double> wheels, const SpeedSignal& measured) {
    constexpr double slack = 1.0; // s
    std::vector<Placed> placed;
    const auto align = [&](Rows rows, const SpeedSignal& track) {
        context.poll();
        return alignSpeeds({context.time.subspan(rows.first, rows.count()), wheels.subspan(rows.first, rows.count())},
                           track);
    };
    for (const Rows rows : clockStretches(context))
        placed.push_back({rows, align(rows, measured)});
    std::vector<std::size_t> order(placed.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order,
                             [&](std::size_t a, std::size_t b) { return placed[a].score() > placed[b].score(); });
    for (std::size_t k = 0; k < order.size(); ++k) {
        Placed& now = placed[order[k]];
        Span room{measured.time.front() - 1e9, measured.time.back() + 1e9};
        for (std::size_t e = 0; e < k; ++e) {
            const Placed& surer = placed[order[e]];
            if (!surer.found) continue;
            const Span taken = onTrack(context, surer);
            if (order[e] < order[k]) room.from = std::max(room.from, taken.to - slack);
            if (order[e] > order[k]) room.to = std::min(room.to, taken.from + slack);
        }
        const auto fits = [&] {
            return onTrack(context, now).from >= room.from && onTrack(context, now).to <= room.to;
        };
        if (!now.found || fits()) continue;
        const auto& t = measured.time;
        const auto first = std::ranges::lower_bound(t, room.from) - t.begin();
        const auto last = std::ranges::upper_bound(t, room.to) - t.begin();
        const auto at = static_cast<std::size_t>(first), count = static_cast<std::size_t>(std::max(last - first, 0L));
        now.found = align(now.rows, {t.subspan(at, count), measured.speed.subspan(at, count), measured.hole});
        if (now.found && !fits()) now.found.reset();
    }
    return placed;
}

} // namespace

double signalAt(const SpeedSignal& signal, double at, std::size_t& from) {
    const auto& t = signal.time;
    if (t.empty() || at < t.front() || at > t.back()) return nan;
    while (from + 2 < t.size() && t[from + 1] < at)
        ++from;
    if (t.size() == 1) return signal.speed[0];
    const double step = t[from + 1] - t[from];
    if (at == t[from + 1]) return signal.speed[from + 1];
    if (at == t[from]) return signal.speed[from];
    if (step > signal.hole || step <= 0.0) return nan;
    return signal.speed[from] + (at - t[from]) / step * (signal.speed[from + 1] - signal.speed[from]);
}

std::optional<Alignment> alignSpeeds(const SpeedSignal& wheels, const SpeedSignal& track) {
    if (wheels.time.size() < 2 || track.time.size() < 2) return {};
    const double longest = std::max(duration(wheels), duration(track));
    const double step = std::max(finestGrid, longest / static_cast<double>(mostPoints));
    const auto points = [&](const SpeedSignal& s) { return static_cast<std::size_t>(duration(s) / step) + 1; };
    const auto lag = bestLag(layOnGrid(wheels, step, points(wheels)), layOnGrid(track, step, points(track)));
    if (!lag) return {};
    const double centre = wheels.time.front() - track.time.front() + static_cast<double>(lag->steps) * step;
    const std::size_t stride = std::max<std::size_t>(1, wheels.time.size() / 50'000);
    // Golden section around the grid's best: one peak within a step either side.
    const double ratio = (std::sqrt(5.0) - 1.0) / 2.0;
    double low = centre - step, high = centre + step;
    double a = high - ratio * (high - low), b = low + ratio * (high - low);
    double ra = correlationAt(wheels, track, a, stride), rb = correlationAt(wheels, track, b, stride);
    constexpr double fineEnough = 1e-4; // s
    while (high - low > fineEnough) {
        if (ra > rb) {
            high = b, b = a, rb = ra;
            a = high - ratio * (high - low);
            ra = correlationAt(wheels, track, a, stride);
        } else {
            low = a, a = b, ra = rb;
            b = low + ratio * (high - low);
            rb = correlationAt(wheels, track, b, stride);
        }
    }
    return Alignment{(low + high) / 2.0, std::max(ra, rb), lag->covered};
}

void alignTrack(Context& context) {
    LogReview& out = context.out;
    if (const auto own = context[Quantity::Speed]; !own.empty()) {
        out.groundSpeed.assign(own.begin(), own.end());
        out.groundSpeedSlow = tooFewFixes(1.0 / context.log[Quantity::Speed].interval_s, context.th.measuredRate);
    }
    if (!context.options.track) return;
    const GpsTrack& track = *context.options.track;
    TrackAlignment told{track.file, track.fixes.size(), track.refused, {}, {}, false};
    const auto wheels = context.has(Quantity::MotorSpeed) ? context[Quantity::MotorSpeed] : context[Quantity::Speed];
    std::vector<double> times, speeds;
    for (const GpsFix& fix : track.fixes)
        if (!std::isnan(fix.speed)) {
            times.push_back(fix.time - track.fixes.front().time);
            speeds.push_back(fix.speed);
        }
    if (wheels.empty() || times.size() < 2) {
        context.note("The measured speed of " + track.file +
                     " could not be aligned: the log has neither motor speed nor speed.");
        out.track = told;
        return;
    }
    const double interval = track.rate_Hz > 0.0 ? 1.0 / track.rate_Hz : 1.0;
    const SpeedSignal measured{times, speeds, std::max(1.5, 2.5 * interval)};
    std::vector<double> ground(context.log.rows(), nan);
    double surest = -1.0;
    for (const Placed& placed : placeStretches(context, wheels, measured)) {
        const auto& [rows, found] = placed;
        if (!found) continue;
        const double offset = found->offset + context.options.trackNudge;
        if (placed.score() > surest) {
            surest = placed.score();
            told.correlation = found->correlation;
            told.offset = offset;
        }
        if (found->correlation < context.th.alignCorrelation) continue;
        told.used = true;
        std::size_t from = 0;
        for (std::size_t i = rows.first; i <= rows.last; ++i)
            ground[i] = signalAt(measured, context.time[i] - offset, from);
        for (std::size_t k = 0; k < times.size(); ++k)
            if (const double at = times[k] + offset; at >= context.time[rows.first] && at <= context.time[rows.last]) {
                context.fixTime.push_back(at);
                context.fixSpeed.push_back(speeds[k]);
            }
    }
    // Where both clocks tell the day, the offset is between the clocks themselves.
    constexpr double aDay = 86400.0;
    if (told.offset && track.dated && std::abs(context.log.time.front() - track.fixes.front().time) < aDay)
        *told.offset -= track.fixes.front().time;
    if (told.used) {
        out.groundSpeed = std::move(ground);
        out.groundSpeedSlow = tooFewFixes(track.rate_Hz, context.th.measuredRate);
    } else if (told.correlation) {
        context.note("The measured speed of " + track.file + " does not follow the wheels and was not used.");
    }
    out.track = told;
}

} // namespace rw::review
