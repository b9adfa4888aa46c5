#include "core/physics/gearing.h"

#include <numbers>

namespace rw {

double overallRatio(int pinionTeeth, int spurTeeth, double internalRatio) {
    return static_cast<double>(spurTeeth) / static_cast<double>(pinionTeeth) * internalRatio;
}

double rollout(double radius, double overallRatio) { return 2.0 * std::numbers::pi * radius / overallRatio; }

double centreDistance(double module, int pinionTeeth, int spurTeeth) {
    return module * static_cast<double>(pinionTeeth + spurTeeth) / 2.0;
}

bool fitsMount(double module, int pinionTeeth, int spurTeeth, double least, double largest) {
    constexpr double rounding = 1e-12; // a pair exactly at an end must not fall out by the product's last bit
    const double distance = centreDistance(module, pinionTeeth, spurTeeth);
    return distance >= least - rounding && distance <= largest + rounding;
}

} // namespace rw
