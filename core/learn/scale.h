// From the scale that is estimated on to values. One thing hangs on another there: a start's charge is read from a
// voltage at rest, so that it moves with the gain of the voltage's sensor. Internal to core/learn.
#pragma once

#include "core/learn/unknowns.h"
#include "core/physics/pack.h"

#include <Eigen/Core>

#include <vector>

namespace rw::learning {

// What was read at rest before a start, over the gain, is what the cell rests at.
struct ChargeTie {
    std::size_t charge = 0, gain = 0; // indices of unknowns
    OpenCircuitVoltage ocv;
    double cell = 0.0; // V, as the sensor read it
    // The table's inverse, straight on beyond its ends; and its slope over the gain.
    [[nodiscard]] double restingAt(double gain) const;
    [[nodiscard]] double slopeAt(double gain) const;
};

class Scale {
public:
    Scale(const std::vector<UnknownItem>& unknowns, const std::vector<ChargeTie>& ties)
        : unknowns_(unknowns)
        , ties_(ties) {}

    [[nodiscard]] std::vector<double> valuesAt(const double* z) const;
    struct Tied {
        Eigen::Index charge = 0, gain = 0;
        double slope = 0.0;
    };
    // Of values over the scale: each its own, and what ties add. Straight: charges as if they had no end.
    struct Slopes {
        Eigen::VectorXd own;
        std::vector<Tied> ties;
        [[nodiscard]] Eigen::MatrixXd matrix() const;
    };
    enum class Ends { Bent, Straight };
    [[nodiscard]] Slopes slopesAt(const double* z, Ends ends = Ends::Bent) const;
    // Where on the scale these values are, charges as if they had no end.
    [[nodiscard]] Eigen::VectorXd straight(const std::vector<double>& x, const double* z) const;

private:
    const std::vector<UnknownItem>& unknowns_;
    const std::vector<ChargeTie>& ties_;
};

} // namespace rw::learning
