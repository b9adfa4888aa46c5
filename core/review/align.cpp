#include "core/review/align.h"

#include "core/review/context.h"

#include <unsupported/Eigen/FFT>

#include <cmath>
#include <complex>

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
    double n = 0.0, x1 = 0.0, y1 = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
    std::size_t from = 0;
    for (std::size_t i = 0; i < wheels.time.size(); i += stride) {
        const double x = wheels.speed[i], y = signalAt(track, wheels.time[i] - offset, from);
        if (std::isnan(x) || std::isnan(y)) continue;
        n += 1.0;
        const double dx = x - x1, dy = y - y1;
        x1 += dx / n;
        y1 += dy / n;
        xx += dx * (x - x1);
        yy += dy * (y - y1);
        xy += dx * (y - y1);
    }
    return xx > 0.0 && yy > 0.0 ? xy / std::sqrt(xx * yy) : -1.0;
}

// The best lag on the grid, in steps that the second signal is late.
std::optional<std::ptrdiff_t> bestLag(const Grid& wheels, const Grid& track) {
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
    double best = -1.0;
    std::optional<std::ptrdiff_t> lag;
    for (std::size_t i = 0; i < size; ++i) {
        const double n = std::round(count[i]);
        if (n < leastPoints) continue;
        const double varX = squareX[i] - sumX[i] * sumX[i] / n, varY = squareY[i] - sumY[i] * sumY[i] / n;
        if (varX < leastVariation * total || varY <= 0.0) continue;
        const double r = (product[i] - sumX[i] * sumY[i] / n) / std::sqrt(varX * varY);
        if (r > best) {
            best = r;
            lag = i < size / 2 ? static_cast<std::ptrdiff_t>(i)
                               : static_cast<std::ptrdiff_t>(i) - static_cast<std::ptrdiff_t>(size);
        }
    }
    return lag;
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
    const double centre = wheels.time.front() - track.time.front() + static_cast<double>(*lag) * step;
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
    return Alignment{(low + high) / 2.0, std::max(ra, rb)};
}

namespace {

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

} // namespace

void alignTrack(Context& context) {
    LogReview& out = context.out;
    if (const auto own = context[Quantity::Speed]; !own.empty()) {
        out.groundSpeed.assign(own.begin(), own.end());
        out.groundSpeedSlow = context.log[Quantity::Speed].interval_s > 1.0 / context.th.measuredRate + timeEpsilon;
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
    for (const Rows rows : clockStretches(context)) {
        const SpeedSignal turned{context.time.subspan(rows.first, rows.count()),
                                 wheels.subspan(rows.first, rows.count()), 1.0};
        const auto found = alignSpeeds(turned, measured);
        context.poll();
        if (!found) continue;
        const double offset = found->offset + context.options.trackNudge;
        if (!told.correlation || found->correlation > *told.correlation) {
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
        out.groundSpeedSlow = track.rate_Hz < context.th.measuredRate;
    } else if (told.correlation) {
        context.note("The measured speed of " + track.file + " does not follow the wheels and was not used.");
    }
    out.track = told;
}

} // namespace rw::review
