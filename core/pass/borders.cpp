#include "core/pass/borders.h"

#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw::pass {

namespace {

void openDistances(const Model& model, double time, const Regime& regime, const Solution& s, BorderDistances& m) {
    if (regime.limit == Limit::Traction && s.drivenLoad <= 0.0) return; // until the wheels are down again
    const auto set = [&](Border border, Limit limit) {
        if (limit == regime.limit) return;
        const double allowed = model.dutyAllowed(limit, time, regime, s);
        m[static_cast<std::size_t>(border)] = std::isinf(allowed) ? 1.0 : allowed - s.duty;
    };
    set(Border::Throttle, Limit::None);
    set(Border::Motor, Limit::MotorCurrent);
    set(Border::Pack, Limit::PackCurrent);
    set(Border::SoftCutoff, Limit::Cutoff);
    if (regime.limit != Limit::Traction) m[static_cast<std::size_t>(Border::Traction)] = 1.0 - s.edgeShare;
    m[static_cast<std::size_t>(Border::Fold)] = model.foldMarginOf(regime.limit, s);
    m[static_cast<std::size_t>(Border::Flow)] = regime.flowing ? s.rawCurrent : -s.rawCurrent;
}

} // namespace

std::optional<double> distanceOfState(const Model& model, const State& y, const Regime& regime, const Watch& watch,
                                      Border border) {
    if (border == Border::OcvKnot && regime.ocvInterval > 0)
        return y[Z] - model.setup().pack.ocv.knot(regime.ocvInterval - 1);
    if (border == Border::Rest && regime.moving) return watch.rolled ? y[V] - restSpeed : y[V];
    if (border == Border::ZoneExit && watch.beforeExit) return watch.zoneExit - y[X];
    return std::nullopt;
}

BorderDistances borderDistances(const Model& model, double time, const State& y, const Regime& regime,
                                const Solution& s, const Watch& watch) {
    BorderDistances m;
    m.fill(1.0);
    const auto at = [&m](Border b) -> double& { return m[static_cast<std::size_t>(b)]; };
    const PassSetup& setup = model.setup();
    if (regime.open) openDistances(model, time, regime, s, m);
    if (regime.sliding) {
        const double most = regime.braking ? setup.driving.brakeFraction * setup.chassis.mass * standardGravity : 0.0;
        at(Border::Slide) = most - s.rawBrake;
    } else if (regime.open) {
        if (regime.limit != Limit::Traction) at(Border::Slide) = 1.0 + s.edgeShare;
    } else {
        at(Border::Slide) = 1.0 - std::abs(s.edgeShare);
    }
    if (setup.gearing.efficiency != 1.0) at(Border::Push) = regime.pushing ? s.torque : -s.torque;
    if (setup.chassis.drive != DrivenAxle::All && regime.axles != Axles::Flying) {
        at(Border::FrontUp) = regime.axles == Axles::FrontUp ? -s.front : s.front;
        at(Border::RearUp) = regime.axles == Axles::RearUp ? -s.rear : s.rear;
    }
    at(Border::Fly) = regime.axles == Axles::Flying ? -s.total : s.total;
    if (setup.strip.headWind < 0.0) {
        const double air = (regime.moving ? y[V] : 0.0) + setup.strip.headWind;
        at(Border::Calm) = regime.headOn ? air : -air;
    }
    for (const Border border : {Border::OcvKnot, Border::Rest, Border::ZoneExit})
        if (const auto distance = distanceOfState(model, y, regime, watch, border)) at(border) = *distance;
    if (!regime.moving) at(Border::Start) = -s.acceleration;
    if (watch.hardCutoff && regime.open) {
        const double over = s.packVoltage - setup.controller.cutoffVoltage;
        at(Border::CutoffVoltage) = watch.belowCutoff ? -over : over;
    }
    return m;
}

double lifted(double distance) {
    constexpr double rounding = 1e-12; // solved quantities of order 1 carry no more
    return distance + rounding;
}

double leastDistance(const BorderDistances& margins) {
    return lifted(*std::min_element(margins.begin(), margins.end()));
}

std::optional<Border> crossed(const BorderDistances& margins) {
    if (!(leastDistance(margins) < 0.0)) return std::nullopt;
    return static_cast<Border>(std::min_element(margins.begin(), margins.end()) - margins.begin());
}

} // namespace rw::pass
