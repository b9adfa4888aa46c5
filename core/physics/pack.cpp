#include "core/physics/pack.h"

#include "core/error.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rw {

OpenCircuitVoltage::OpenCircuitVoltage(std::vector<double> charges, std::vector<double> volts)
    : charges_(std::move(charges))
    , volts_(std::move(volts))
    , slopes_(charges_.size()) {
    const std::size_t n = charges_.size();
    if (n < 2 || volts_.size() != n) throw InputError("pack.ocv", "expected two rows or more of charge and volts");
    for (std::size_t k = 1; k < n; ++k)
        if (!(charges_[k] > charges_[k - 1])) throw InputError("pack.ocv", "charges must rise from row to row");
    const auto width = [this](std::size_t k) { return charges_[k + 1] - charges_[k]; };
    const auto secant = [&](std::size_t k) { return (volts_[k + 1] - volts_[k]) / width(k); };
    slopes_.front() = secant(0);
    slopes_.back() = secant(n - 2);
    for (std::size_t k = 1; k + 1 < n; ++k) {
        const double before = secant(k - 1);
        const double after = secant(k);
        if (before * after <= 0.0) continue;
        const double w1 = 2.0 * width(k) + width(k - 1);
        const double w2 = width(k) + 2.0 * width(k - 1);
        slopes_[k] = (w1 + w2) / (w1 / before + w2 / after);
    }
}

std::size_t OpenCircuitVoltage::interval(double charge) const {
    return static_cast<std::size_t>(std::upper_bound(charges_.begin(), charges_.end(), charge) - charges_.begin());
}

double OpenCircuitVoltage::atInterval(double charge, std::size_t interval) const {
    if (interval == 0) return volts_.front();
    if (interval >= charges_.size()) return volts_.back();
    const std::size_t k = interval - 1;
    const double h = charges_[k + 1] - charges_[k];
    const double t = (charge - charges_[k]) / h;
    const double rise = volts_[k + 1] - volts_[k];
    const double c2 = 3.0 * rise - h * (2.0 * slopes_[k] + slopes_[k + 1]);
    const double c3 = h * (slopes_[k] + slopes_[k + 1]) - 2.0 * rise;
    return volts_[k] + t * (h * slopes_[k] + t * (c2 + t * c3));
}

double Pack::cellsResistance(double pack_C) const {
    const double cells = static_cast<double>(series) / static_cast<double>(parallel) * cellResistance25;
    if (resistanceB == 0.0) return cells;
    return cells * std::exp(resistanceB * (1.0 / (pack_C + zeroCelsius_K) - 1.0 / 298.15));
}

} // namespace rw
