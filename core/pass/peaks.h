// Largest values over a pass, refined between the integrator's points, not sampled.
#pragma once

#include "core/pass/model.h"

#include <array>
#include <functional>

namespace rw::pass {

// Each is tracked as its largest; the two lowest ones with their sign turned.
enum class Peak : std::uint8_t {
    LowVoltage, PackCurrent, MotorCurrent, Electrical, Shaft, MotorSpeed, WheelSpeed, Ripple, LowFrontLoad,
    Winding, Case, Controller, Pack,
    Count_
};
inline constexpr std::size_t peakCount = static_cast<std::size_t>(Peak::Count_);
using PeakValues = std::array<double, peakCount>;

// Values at one instant; the ripple of a regime that does not chop is below everything.
[[nodiscard]] PeakValues peakValues(const Model& model, const State& y, const Regime& regime, const Solution& s);

class Peaks {
public:
    Peaks();
    void take(const PeakValues& values);
    // One step: values at its start, at an inner share (estimates will do) and at its end. Where a parabola through them
    // may top the best so far, the peak is searched on `at`, the true values at a share of the step.
    void takeStep(const PeakValues& start, double innerShare, const PeakValues& inner, const PeakValues& end,
                  const std::function<PeakValues(double)>& at);
    [[nodiscard]] double best(Peak peak) const { return best_[static_cast<std::size_t>(peak)]; }

private:
    PeakValues best_;
};

} // namespace rw::pass
