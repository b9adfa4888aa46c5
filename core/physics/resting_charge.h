// The charge that a resting cell's voltage tells.
#pragma once

#include "core/physics/pack.h"

namespace rw {

// Charge in 0..1 at which a cell rests at a voltage (V), by a rising table; 0 or 1 beyond its ends.
[[nodiscard]] double restingCharge(const OpenCircuitVoltage& ocv, double volts);

} // namespace rw
