#include "core/physics/controller.h"

#include <limits>

namespace rw {

double rippleVoltage(const Controller& controller, double current, double duty) {
    return current * duty * (1.0 - duty) / (controller.pwmFrequency * controller.inputCapacitance) +
           current * controller.inputEsr;
}

double dutyForPackCurrent(const Circuit& c, double drawn, double backEmf) {
    if (drawn <= 0.0) return backEmf / c.source;
    const double terminal = c.source - drawn * c.packResistance;
    if (!(terminal > 0.0)) return std::numeric_limits<double>::infinity();
    return (backEmf + std::sqrt(backEmf * backEmf + 4.0 * terminal * drawn * c.loopResistance)) / (2.0 * terminal);
}

} // namespace rw
