// Largest values over the steps of the outside integrator: sampled, then searched by golden section where a peak may
// lie between.
#pragma once

#include "core/pass/model.h"

#include <array>
#include <cstddef>
#include <functional>

namespace rw::reference {

enum Figure : std::size_t {
    LowVoltage, // lowest: sign turned
    PackAmps,
    MotorAmps,
    ElectricalPower,
    ShaftPower,
    WheelSpin,
    GroundSpeed,
    WindingHeat,
    CaseHeat,
    ControllerHeat,
    PackHeat,
    RippleVolts,
    FrontShare, // lowest: sign turned
    figureCount
};
using Figures = std::array<double, figureCount>;

[[nodiscard]] Figures figuresAt(const pass::Model& model, const pass::State& y, const pass::Regime& regime,
                                const pass::Solution& s);

class Largest {
public:
    Largest();
    void take(const Figures& f);
    // Samples at equal spacing over one step; `at` gives the figures at a share 0..1 of it.
    void search(const std::function<Figures(double)>& at, int samples);
    [[nodiscard]] double of(Figure f) const { return best_[f]; }

private:
    Figures best_;
};

} // namespace rw::reference
