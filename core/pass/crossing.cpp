#include "core/pass/crossing.h"

namespace rw::pass {

double cross(const Model& model, Border border, const Meeting& at, Regime& regime, double& hint) {
    const bool held = atEdge(regime);
    const auto resolve = [&](std::optional<Limit> without) { model.resolve(at.time, at.state, regime, without, hint); };
    double first = stepAfterBorder;
    switch (border) {
    case Border::Throttle:
        regime.limit = Limit::None;
        break;
    case Border::Motor:
        regime.limit = Limit::MotorCurrent;
        break;
    case Border::Pack:
        regime.limit = Limit::PackCurrent;
        break;
    case Border::SoftCutoff:
        regime.limit = Limit::Cutoff;
        break;
    case Border::Traction:
        regime.limit = Limit::Traction;
        regime.sliding = false;
        break;
    case Border::Fold:
        first = stepAfterJump;
        resolve(regime.limit);
        break;
    case Border::Flow:
        regime.flowing = !regime.flowing;
        break;
    case Border::Push:
        regime.pushing = !regime.pushing;
        break;
    case Border::FrontUp:
        regime.axles = regime.axles == Axles::FrontUp ? Axles::Both : Axles::FrontUp;
        break;
    case Border::RearUp:
        regime.axles = regime.axles == Axles::RearUp ? Axles::Both : Axles::RearUp;
        break;
    case Border::Fly:
        resolve(std::nullopt);
        break;
    case Border::Slide:
        regime.sliding = !regime.sliding;
        model.settle(at.time, at.state, regime, hint);
        break;
    case Border::Calm:
        regime.headOn = !regime.headOn;
        break;
    case Border::OcvKnot:
        --regime.ocvInterval;
        break;
    case Border::Start:
        regime.moving = true;
        resolve(std::nullopt);
        break;
    case Border::Rest:
    case Border::ZoneExit:
    case Border::CutoffVoltage:
    case Border::Count_:
        break;
    }
    const bool axlesChanged = border == Border::FrontUp || border == Border::RearUp;
    if (axlesChanged && regime.open && at.solution.drivenLoad <= 0.0) // the driven wheels are down again
        resolve(std::nullopt);
    if (border <= Border::Traction) model.settle(at.time, at.state, regime, hint);
    return held && !atEdge(regime) ? stepAfterSliding : first;
}

} // namespace rw::pass
