#include "core/physics/pack.h"

#include "core/error.h"
#include "core/units.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <utility>

namespace rw {

OpenCircuitVoltage::OpenCircuitVoltage(std::vector<double> charges, const std::vector<double>& volts)
    : charges_(std::move(charges)) {
    const std::size_t n = charges_.size();
    if (n < 2 || volts.size() != n) throw InputError("pack.ocv", "expected two rows or more of charge and volts");
    for (std::size_t k = 1; k < n; ++k)
        if (!(charges_[k] > charges_[k - 1])) throw InputError("pack.ocv", "charges must rise from row to row");
    const auto width = [this](std::size_t k) { return charges_[k + 1] - charges_[k]; };
    const auto secant = [&](std::size_t k) { return (volts[k + 1] - volts[k]) / width(k); };
    std::vector<double> slopes(n);
    slopes.front() = secant(0);
    slopes.back() = secant(n - 2);
    for (std::size_t k = 1; k + 1 < n; ++k) {
        const double before = secant(k - 1);
        const double after = secant(k);
        if (before * after <= 0.0) continue;
        const double w1 = 2.0 * width(k) + width(k - 1);
        const double w2 = width(k) + 2.0 * width(k - 1);
        slopes[k] = (w1 + w2) / (w1 / before + w2 / after);
    }
    pieces_.reserve(n + 1);
    pieces_.push_back({charges_.front(), volts.front()});
    for (std::size_t k = 0; k + 1 < n; ++k) {
        const double h = width(k);
        pieces_.push_back({charges_[k], volts[k], slopes[k], (3.0 * secant(k) - 2.0 * slopes[k] - slopes[k + 1]) / h,
                           (slopes[k] + slopes[k + 1] - 2.0 * secant(k)) / (h * h)});
    }
    pieces_.push_back({charges_.back(), volts.back()});
}

std::size_t OpenCircuitVoltage::interval(double charge) const {
    return static_cast<std::size_t>(std::upper_bound(charges_.begin(), charges_.end(), charge) - charges_.begin());
}

double restingCharge(const OpenCircuitVoltage& ocv, double volts) {
    if (volts <= ocv.at(0.0)) return 0.0;
    if (volts >= ocv.at(1.0)) return 1.0;
    constexpr int bits = 40; // far below what a voltage tells
    std::uintmax_t iterations = 100;
    const auto [low, high] = boost::math::tools::bisect([&](double charge) { return ocv.at(charge) - volts; }, 0.0, 1.0,
                                                        boost::math::tools::eps_tolerance<double>(bits), iterations);
    return 0.5 * (low + high);
}

double Pack::cellsResistance(double pack_C) const {
    const double cells = static_cast<double>(series) / static_cast<double>(parallel) * cellResistance25;
    if (resistanceB == 0.0) return cells;
    return cells * std::exp(resistanceB * (1.0 / (pack_C + zeroCelsius_K) - 1.0 / 298.15));
}

} // namespace rw
