// Pack: Thevenin source with one RC pair. core/physics/README.md 6. SI; charge as a fraction 0..1 (may run below 0).
// Source of the interpolation: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
#pragma once

#include "core/physics/heat.h"

#include <cstddef>
#include <vector>

namespace rw {

// Open-circuit voltage of one cell over charge: monotone cubic Hermite; outside the table its end value.
class OpenCircuitVoltage {
public:
    OpenCircuitVoltage() = default;
    // Charges strictly rising, at least two; throws InputError else.
    OpenCircuitVoltage(std::vector<double> charges, const std::vector<double>& volts);

    [[nodiscard]] double at(double charge) const { return atInterval(charge, interval(charge)); }
    // Interval holding the charge: 0 below the table, k between knots k-1 and k, size() above.
    [[nodiscard]] std::size_t interval(double charge) const;
    // The polynomial of one interval, also outside it (smooth past its ends for an integrator's stages).
    [[nodiscard]] double atInterval(double charge, std::size_t interval) const {
        const Piece& p = pieces_[interval];
        const double over = charge - p.from;
        return p.volts + over * (p.slope + over * (p.square + over * p.cube));
    }
    [[nodiscard]] std::size_t size() const { return charges_.size(); }
    [[nodiscard]] double knot(std::size_t index) const { return charges_[index]; }

private:
    // Volts over the charge above `from`: constant below the first knot and above the last, cubic between.
    struct Piece {
        double from = 0.0, volts = 0.0, slope = 0.0, square = 0.0, cube = 0.0;
    };
    std::vector<double> charges_;
    std::vector<Piece> pieces_; // one more than knots
};

// Charge in 0..1 at which a cell rests at a voltage (V), by a rising table; 0 or 1 beyond its ends.
[[nodiscard]] double restingCharge(const OpenCircuitVoltage& ocv, double volts);

struct Pack {
    int series = 1, parallel = 1;
    double capacity = 1.0;         // A·s, whole pack
    double cellResistance25 = 0.0; // ohm at 25 °C
    double resistanceB = 0.0;      // K
    double leadResistance = 0.0;   // ohm
    double rcResistance = 0.0;     // ohm, whole pack; 0: no RC pair
    double rcCapacitance = 0.0;    // F
    OpenCircuitVoltage ocv;        // V per cell
    OneNodeHeat heat;

    // (s/p) R_cell(T): what heats the cells; without leads.
    [[nodiscard]] double cellsResistance(double pack_C) const;
    [[nodiscard]] double resistance(double pack_C) const { return cellsResistance(pack_C) + leadResistance; }
    [[nodiscard]] bool hasRc() const { return rcResistance > 0.0; }
};

} // namespace rw
