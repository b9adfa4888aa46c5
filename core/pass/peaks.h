// Largest values over a pass, refined between the integrator's points, not sampled.
#pragma once

#include "core/pass/model.h"

#include <array>
#include <functional>
#include <span>

namespace rw::pass {

// Each is tracked as its largest; the two lowest ones with their sign turned.
enum class Peak : std::uint8_t {
    LowVoltage,
    PackCurrent,
    MotorCurrent,
    Electrical,
    Shaft,
    MotorSpeed,
    WheelSpeed,
    Ripple,
    LowFrontLoad,
    Winding,
    Case,
    Controller,
    Pack,
    Count_
};
inline constexpr std::size_t peakCount = static_cast<std::size_t>(Peak::Count_);
using PeakValues = std::array<double, peakCount>;

// Values at one instant; the ripple of a regime that does not chop is below everything.
[[nodiscard]] PeakValues peakValues(const Model& model, const State& y, const Regime& regime, const Solution& s);

class Peaks {
public:
    explicit Peaks(double leastGain); // relative: what ends the search for a peak
    void take(const PeakValues& values);
    // One step: values at rising shares of it from 0 to 1, those between good estimates. Where a parabola through three
    // neighbours may top the best so far, the peak is searched on `at`, the true values at a share of the step.
    void takeStep(std::span<const double> shares, std::span<const PeakValues> values,
                  const std::function<PeakValues(double)>& at);
    [[nodiscard]] double best(Peak peak) const { return best_[static_cast<std::size_t>(peak)]; }

private:
    PeakValues best_;
    double leastGain_;
};

} // namespace rw::pass
