// Brushless motor as its direct-current equivalent. core/physics/README.md 4; temperatures °C, SI else.
// Sources: IEC 60028 (copper); textbook permanent-magnet motor.
#pragma once

#include "core/physics/heat.h"
#include "core/units.h"

#include <cmath>

namespace rw {

inline constexpr double copperCoefficient = 0.00393; // 1/K at 20 °C, IEC 60028

struct NoLoadCurrent {
    double constant = 0.0;       // I_c, A
    double viscous = 0.0;        // I_v, A at the reference speed
    double referenceSpeed = 1.0; // rad/s

    [[nodiscard]] double at(double speed) const {
        return constant + viscous * (speed < 0.0 ? -speed : speed) / referenceSpeed;
    }
};

struct Motor {
    double kv_rpmPerVolt = 0.0;
    double resistance20 = 0.0; // ohm at 20 °C
    NoLoadCurrent noLoad;
    double timing = 0.0;                // rad, electrical
    double magnetCoefficient = -0.0011; // 1/K
    double inertia = 0.0;               // kg m²
    TwoNodeHeat heat;
    double ironLossToWinding = 0.0; // fraction of iron loss that heats the winding

    // Volts per rad/s, the same as newton metres per ampere.
    [[nodiscard]] double constant(double winding_C) const {
        return rpmPerRadps / kv_rpmPerVolt * std::cos(timing) * (1.0 + magnetCoefficient * (winding_C - 20.0));
    }
    [[nodiscard]] double resistance(double winding_C) const {
        return resistance20 * (1.0 + copperCoefficient * (winding_C - 20.0));
    }
};

// No-load current from one test: half of it constant, half rising with speed.
[[nodiscard]] inline NoLoadCurrent noLoadFromTest(double current, double voltage, double kv_rpmPerVolt) {
    return {current / 2.0, current / 2.0, radpsPerRpm * kv_rpmPerVolt * voltage};
}

} // namespace rw
