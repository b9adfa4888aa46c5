#include "core/pass/borders.h"

namespace rw::pass {

namespace {

// The limit whose duty becomes the least beyond a border; none: the border changes something else.
std::optional<Limit> limitBeyond(Border border) {
    switch (border) {
    case Border::Throttle:
        return Limit::None;
    case Border::Motor:
        return Limit::MotorCurrent;
    case Border::Pack:
        return Limit::PackCurrent;
    case Border::SoftCutoff:
        return Limit::Cutoff;
    case Border::Traction:
        return Limit::Traction;
    default:
        return std::nullopt;
    }
}

// Borders at which nothing has to be chosen anew.
void flip(Border border, Regime& regime) {
    switch (border) {
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
    case Border::Slide:
        regime.sliding = !regime.sliding;
        break;
    case Border::Calm:
        regime.headOn = !regime.headOn;
        break;
    case Border::OcvKnot:
        --regime.ocvInterval;
        break;
    case Border::Start:
        regime.moving = true;
        break;
    default:
        break;
    }
}

} // namespace

double cross(const Model& model, Border border, const Meeting& at, Regime& regime, double& hint) {
    const bool held = atEdge(regime);
    const auto resolve = [&](std::optional<Limit> without) { model.resolve(at.time, at.state, regime, without, hint); };
    const auto settle = [&] { (void)model.settle(at.time, at.state, regime, hint); };
    flip(border, regime);
    if (const auto limit = limitBeyond(border)) {
        regime.limit = *limit;
        if (border == Border::Traction) regime.sliding = false;
        settle();
    }
    const bool axlesChanged = border == Border::FrontUp || border == Border::RearUp;
    if (border == Border::Fold) resolve(regime.limit);
    if (border == Border::Slide) settle();
    if (border == Border::Fly || border == Border::Start) resolve(std::nullopt);
    if (axlesChanged && regime.open && at.solution.drivenLoad <= 0.0) // the driven wheels are down again
        resolve(std::nullopt);
    if (held && !atEdge(regime)) return stepAfterSliding;
    return border == Border::Fold ? stepAfterJump : stepAfterBorder;
}

} // namespace rw::pass
