// Controller between pack and motor: duty, limits, cutoff, ripple. core/physics/README.md 5 and 7.
// Sources: Texas Instruments SLTA055 (input capacitor ripple); Kolar & Round, IEE Proc. 153 (2006) 535.
#pragma once

#include "core/physics/heat.h"

#include <cmath>
#include <limits>
#include <optional>

namespace rw {

enum class CutoffMode { Off, Soft, Hard };

struct Controller {
    double resistance = 0.0;                 // ohm, in the motor loop
    double endpoint = 1.0;                   // duty at full throttle
    std::optional<double> dutyRate;          // 1/s
    std::optional<double> motorCurrentLimit; // A
    std::optional<double> packCurrentLimit;  // A, auxiliary current included
    double auxiliaryCurrent = 0.0;           // A from the pack, always
    CutoffMode cutoff = CutoffMode::Off;
    double cutoffVoltage = 0.0; // V, whole pack
    double cutoffDelay = 0.5;   // s, hard
    double pwmFrequency = 12000.0;
    double switchTime = 0.0; // s
    double inputCapacitance = 0.0015, inputEsr = 0.005;
    double idle = 0.0; // W
    OneNodeHeat heat;
};

// Estimate of the ripple at the input capacitors, V peak to peak, for a duty below 1 (at 1 it is the limit from below).
[[nodiscard]] inline double rippleVoltage(const Controller& controller, double motorCurrent, double duty) {
    return motorCurrent * duty * (1.0 - duty) / (controller.pwmFrequency * controller.inputCapacitance) +
           motorCurrent * controller.inputEsr;
}

// One instant's circuit: E behind R0, V_m = I_m (R_m + R_c) + k ω_m.
struct Circuit {
    double source = 0.0;         // E = U_oc − U_1 − I_aux R_0, V
    double packResistance = 0.0; // R_0, ohm
    double loopResistance = 0.0; // R_m + R_c, ohm
};

// Motor current at a duty, may be negative: the caller decides about freewheeling.
[[nodiscard]] inline double motorCurrent(const Circuit& c, double duty, double backEmf) {
    return (duty * c.source - backEmf) / (c.loopResistance + duty * duty * c.packResistance);
}
// E² − 4 I R_0 V_m: negative where no duty gives the motor current (the fold).
[[nodiscard]] inline double foldMargin(const Circuit& c, double current, double backEmf) {
    return c.source * c.source - 4.0 * current * c.packResistance * (current * c.loopResistance + backEmf);
}
// Smaller root of d² I R_0 − d E + V_m = 0; at the fold's root where there is none.
[[nodiscard]] inline double dutyForMotorCurrent(const Circuit& c, double current, double backEmf) {
    const double fold = foldMargin(c, current, backEmf);
    const double root = fold > 0.0 ? std::sqrt(fold) : 0.0;
    return 2.0 * (current * c.loopResistance + backEmf) / (c.source + root);
}
// Duty at which the motor takes `drawn` = d I_m from the pack; with drawn ≤ 0 the duty of no current.
// Infinite where the pack cannot give that much above 0 V.
[[nodiscard]] inline double dutyForPackCurrent(const Circuit& c, double drawn, double backEmf) {
    if (drawn <= 0.0) return backEmf / c.source;
    const double terminal = c.source - drawn * c.packResistance;
    if (!(terminal > 0.0)) return std::numeric_limits<double>::infinity();
    return (backEmf + std::sqrt(backEmf * backEmf + 4.0 * terminal * drawn * c.loopResistance)) / (2.0 * terminal);
}

} // namespace rw
