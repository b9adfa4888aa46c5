#include "core/physics/motor.h"

#include "core/units.h"

#include <cmath>

namespace rw {

double Motor::constant(double winding_C) const {
    return rpmPerRadps / kv_rpmPerVolt * std::cos(timing) * (1.0 + magnetCoefficient * (winding_C - 20.0));
}

NoLoadCurrent noLoadFromTest(double current, double voltage, double kv_rpmPerVolt) {
    return {current / 2.0, current / 2.0, radpsPerRpm * kv_rpmPerVolt * voltage};
}

} // namespace rw
