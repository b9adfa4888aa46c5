#include "core/learn/scale.h"

namespace rw::learning {

namespace {

constexpr double near = 0.01; // of charge, over which a slope is taken

// The tied charge with the prior that the gain leaves it.
UnknownItem movedBy(const UnknownItem& charge, double resting) {
    UnknownItem out = charge;
    out.mean = resting;
    return out;
}

} // namespace

double ChargeTie::restingAt(double gainValue) const {
    const double volts = cell / gainValue;
    const double empty = ocv.at(0.0), full = ocv.at(1.0);
    if (volts > full) return 1.0 + (volts - full) * near / (full - ocv.at(1.0 - near));
    if (volts < empty) return (volts - empty) * near / (ocv.at(near) - empty);
    return restingCharge(ocv, volts);
}

double ChargeTie::slopeAt(double gainValue) const {
    constexpr double step = 1e-5; // of the gain
    return (restingAt(gainValue + step) - restingAt(gainValue - step)) / (2.0 * step);
}

std::vector<double> Scale::valuesAt(const double* z) const {
    std::vector<double> out(unknowns_.size());
    for (std::size_t j = 0; j < out.size(); ++j)
        out[j] = unknowns_[j].valueAt(z[j]);
    for (const ChargeTie& tie : ties_)
        out[tie.charge] = movedBy(unknowns_[tie.charge], tie.restingAt(out[tie.gain])).valueAt(z[tie.charge]);
    return out;
}

Scale::Slopes Scale::slopesAt(const double* z, Ends ends) const {
    Slopes out;
    out.own.resize(static_cast<Eigen::Index>(unknowns_.size()));
    const auto own = [&](std::size_t j, const UnknownItem& item) {
        const bool straight = ends == Ends::Straight && item.kind == Unknown::Charge;
        return out.own[static_cast<Eigen::Index>(j)] = straight ? item.deviation : item.slopeAt(z[j]);
    };
    for (std::size_t j = 0; j < unknowns_.size(); ++j)
        own(j, unknowns_[j]);
    for (const ChargeTie& tie : ties_) {
        const UnknownItem& gain = unknowns_[tie.gain];
        const UnknownItem charge = movedBy(unknowns_[tie.charge], tie.restingAt(gain.valueAt(z[tie.gain])));
        const double slope = own(tie.charge, charge) / charge.deviation * tie.slopeAt(gain.valueAt(z[tie.gain])) *
                             gain.slopeAt(z[tie.gain]);
        out.ties.push_back({static_cast<Eigen::Index>(tie.charge), static_cast<Eigen::Index>(tie.gain), slope});
    }
    return out;
}

Eigen::MatrixXd Scale::Slopes::matrix() const {
    Eigen::MatrixXd out = own.asDiagonal();
    for (const Tied& tie : ties)
        out(tie.charge, tie.gain) = tie.slope;
    return out;
}

Eigen::VectorXd Scale::straight(const std::vector<double>& x, const double* z) const {
    Eigen::VectorXd out(static_cast<Eigen::Index>(x.size()));
    for (std::size_t j = 0; j < x.size(); ++j) {
        const UnknownItem& item = unknowns_[j];
        out[static_cast<Eigen::Index>(j)] = item.kind == Unknown::Charge ? (x[j] - item.mean) / item.deviation : z[j];
    }
    for (const ChargeTie& tie : ties_)
        out[static_cast<Eigen::Index>(tie.charge)] =
            (x[tie.charge] - tie.restingAt(x[tie.gain])) / unknowns_[tie.charge].deviation;
    return out;
}

} // namespace rw::learning
