#include "core/pass/peaks.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw::pass {

namespace {

constexpr double lowest = -std::numeric_limits<double>::infinity();

struct Vertex {
    double share = -1.0, value = lowest;
};

// Top of the parabola through three points, its place as a share from the first to the last; outside 0..1 where it has
// none inside. `middle` is the second point's share.
Vertex parabolaTop(double a, double middle, double b, double d) {
    const double p = (b - a) / middle;
    const double q = ((d - b) / (1.0 - middle) - p); // second difference: y = a + p x + q x (x - middle)
    if (!(q < 0.0)) return {};
    const double x = (q * middle - p) / (2.0 * q);
    return {x, a + p * x + q * x * (x - middle)};
}

// Largest of a smooth function near a first guess, by successive parabolas; its value is what is wanted, to about
// 1e-13.
double climb(const std::function<double(double)>& f, double guess, double leastGain) {
    const int leastRounds = leastGain < 1e-12 ? 2 : 1;
    double x = std::clamp(guess, 0.0, 1.0);
    double width = 0.1;
    double best = f(x);
    for (int i = 0; i < 6; ++i) {
        const double left = std::clamp(x - width, 0.0, 1.0);
        const double right = std::clamp(x + width, 0.0, 1.0);
        const double middle = 0.5 * (left + right);
        const double span = right - left;
        const double a = f(left);
        const double b = f(middle);
        const double d = f(right);
        best = std::max({best, a, b, d});
        const Vertex v = parabolaTop(a, 0.5, b, d);
        x = v.share < 0.0 ? (a > d ? left : right) : std::clamp(left + v.share * span, 0.0, 1.0);
        const double value = f(x);
        const double gain = value - best;
        best = std::max(best, value);
        if (std::abs(gain) <= leastGain * std::abs(best) && i + 1 >= leastRounds) break;
        width *= v.share < 0.0 || v.share > 1.0 ? 1.0 : 0.25;
    }
    return best;
}

} // namespace

PeakValues peakValues(const Model& model, const State& y, const Regime& regime, const Solution& s) {
    PeakValues v;
    const auto at = [&v](Peak p) -> double& { return v[static_cast<std::size_t>(p)]; };
    at(Peak::LowVoltage) = -s.packVoltage;
    at(Peak::PackCurrent) = s.packCurrent;
    at(Peak::MotorCurrent) = s.motorCurrent;
    at(Peak::Electrical) = s.packVoltage * s.packCurrent;
    at(Peak::Shaft) = s.torque * s.motorSpeed + 0.0; // never -0
    at(Peak::MotorSpeed) = s.motorSpeed;
    at(Peak::WheelSpeed) = s.wheelSpeed;
    at(Peak::Ripple) =
        model.chopping(regime) ? rippleVoltage(model.setup().controller, s.motorCurrent, s.duty) : lowest;
    at(Peak::LowFrontLoad) = -model.loads(s, regime.moving).front;
    at(Peak::Winding) = y[TW];
    at(Peak::Case) = y[TH];
    at(Peak::Controller) = y[TC];
    at(Peak::Pack) = y[TP];
    return v;
}

Peaks::Peaks(double leastGain)
    : leastGain_(leastGain) {
    best_.fill(lowest);
}

void Peaks::take(const PeakValues& values) {
    for (std::size_t i = 0; i < peakCount; ++i)
        best_[i] = std::max(best_[i], values[i]);
}

void Peaks::takeStep(std::span<const double> shares, std::span<const PeakValues> values,
                     const std::function<PeakValues(double)>& at) {
    take(values.back());
    for (std::size_t i = 0; i < peakCount; ++i) {
        if (values.front()[i] == lowest) continue;
        Vertex candidate;
        for (std::size_t k = 1; k + 1 < shares.size(); ++k) {
            const double a = values[k - 1][i];
            const double b = values[k][i];
            const double d = values[k + 1][i];
            // Between the first and the last place, a peak shows as a value above its neighbours.
            if ((a > b && k > 1) || (d > b && k + 2 < shares.size())) continue;
            const double length = shares[k + 1] - shares[k - 1];
            const Vertex top = parabolaTop(a, (shares[k] - shares[k - 1]) / length, b, d);
            // The inner values are estimates, so let the vertex lie a little outside and fall a little short.
            if (top.share < -0.1 || top.share > 1.1) continue;
            const double rise = std::abs(a - b) + std::abs(d - b);
            if (top.value + 0.2 * rise < best_[i] || rise <= 1e-12 * std::abs(b) || top.value < candidate.value)
                continue;
            candidate = {shares[k - 1] + top.share * length, top.value};
        }
        if (candidate.value > lowest)
            best_[i] = std::max(best_[i], climb([&](double x) { return at(x)[i]; }, candidate.share, leastGain_));
    }
}

} // namespace rw::pass
