#include "core/physics/resting_charge.h"

#include <boost/math/tools/roots.hpp>
#include <cstdint>

namespace rw {

double restingCharge(const OpenCircuitVoltage& ocv, double volts) {
    if (volts <= ocv.at(0.0)) return 0.0;
    if (volts >= ocv.at(1.0)) return 1.0;
    constexpr int bits = 40; // far below what a voltage tells
    std::uintmax_t iterations = 100;
    const auto [low, high] = boost::math::tools::bisect([&](double charge) { return ocv.at(charge) - volts; }, 0.0, 1.0,
                                                        boost::math::tools::eps_tolerance<double>(bits), iterations);
    return 0.5 * (low + high);
}

} // namespace rw
