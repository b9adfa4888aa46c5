// Lumped heat: one node (controller, pack) and two nodes (motor). core/physics/README.md 9; °C, J/K, K/W.
// Source: lumped capacitance and the turbulent flat plate's h ∝ v^0.8, e.g. Incropera (from memory).
#pragma once

#include <optional>

namespace rw {

// Resistance to the air: standing / (1 + coefficient v^0.8), v over ground.
struct AirCooling {
    double standing = 1.0;    // K/W
    double coefficient = 0.0; // (s/m)^0.8

    [[nodiscard]] double resistance(double speed) const;
};

struct OneNodeHeat {
    double capacity = 1.0; // J/K
    AirCooling toAir;
};

struct TwoNodeHeat {
    double windingCapacity = 1.0, caseCapacity = 1.0; // J/K
    double windingToCase = 1.0;                       // K/W
    AirCooling toAir;                                 // from the case
};

struct TwoNodeTemperatures {
    double winding = 0.0, motorCase = 0.0; // °C
};

// Standing without heat input for `seconds`: the linear system in closed form.
[[nodiscard]] TwoNodeTemperatures cool(const TwoNodeHeat& heat, TwoNodeTemperatures start, double air_C,
                                       double seconds);

struct CasePeak {
    double temperature = 0.0;    // °C
    std::optional<double> after; // s; none: it climbs towards the air's temperature without a peak
};
// Largest case temperature from now on, standing for good without heat input.
[[nodiscard]] CasePeak casePeak(const TwoNodeHeat& heat, TwoNodeTemperatures start, double air_C);

// One node standing with a constant heat input, closed form.
[[nodiscard]] double settle(const OneNodeHeat& heat, double start_C, double air_C, double watts, double seconds);

} // namespace rw
