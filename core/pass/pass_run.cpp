// The event loop: which equations hold, and from when on.
#include "core/pass/pass_run.h"

#include "core/pass/borders.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw::pass {

namespace {

constexpr double stuckAfter = 10.0, stuckDistance = 1e-3; // s, m: core/physics/README.md 10
constexpr double startStep = 1e-3;
constexpr double longestClosedStep = 2.0; // open: limits come and go, and none is longer than the precision allows
constexpr double creeping = 0.1;          // m/s²
constexpr int mostAtOnce = 30;            // borders at one instant before the loop walks on without them for a step
constexpr int mostEvents = 5000;          // of a pass, likewise: only a setup that chatters at a border has so many

} // namespace

PassRun::PassRun(const PassSetup& setup, const StartState& start, const PassOptions& options, const InstantSink& sink)
    : model_(setup, options.precision.solve)
    , setup_(setup)
    , start_(start)
    , trace_(sink, options.traceRate)
    , precision_(options.precision)
    , stepper_(Rhs{this}, options.precision.tolerance, tolerances(options.precision.tolerance))
    , peaks_(options.precision.peakGain) {
    watch_.zoneExit = setup.strip.runUp + setup.strip.timed;
    watch_.hardCutoff = setup.controller.cutoff == CutoffMode::Hard;
}

Phase PassRun::phase() const {
    if (ended_) return Phase::Rest;
    if (exit_) return regime_.braking ? Phase::Brake : Phase::Coast;
    if (!regime_.moving) return Phase::Standing;
    return stepper_.state()[X] < setup_.strip.runUp ? Phase::RunUp : Phase::Timed;
}

PassResult PassRun::run() {
    const State y = stateOf(setup_, start_);
    regime_.ocvInterval = fallingInterval(setup_.pack.ocv, y[Z]);
    regime_.full = model_.fullThrottleTime() == 0.0;
    stage_ = 0;
    stepper_.restart(0.0, y);
    model_.resolve(0.0, y, regime_, std::nullopt, hint_);
    Regime moving = regime_;
    moving.moving = true;
    model_.resolve(0.0, y, moving, std::nullopt, hint_);
    if (model_.solve(0.0, y, moving, hint_).acceleration > 0.0) regime_ = moving;
    if (setup_.driving.target && *setup_.driving.target <= 0.0) timeToTarget_ = distanceToTarget_ = 0.0;
    if (setup_.strip.runUp <= 0.0) entry_ = 0.0;
    h_ = startStep;
    const Chassis& c = setup_.chassis;
    frontAtRest_ = c.mass * standardGravity / std::sqrt(1.0 + setup_.strip.grade * setup_.strip.grade) *
                   (c.wheelbase - c.cgBehindFront) / c.wheelbase;
    enterSegment(startStep);
    while (!ended_)
        advance();
    return result();
}

void PassRun::resetCutoffClock() {
    if (!watch_.hardCutoff || !regime_.open) {
        belowSince_.reset();
        return;
    }
    watch_.belowCutoff = startSolution_.packVoltage < setup_.controller.cutoffVoltage;
    if (!watch_.belowCutoff)
        belowSince_.reset();
    else if (!belowSince_)
        belowSince_ = stepper_.time();
}

void PassRun::enterSegment(double firstStep) {
    const double t = stepper_.time();
    const State y = stepper_.state();
    foresight_.forget();
    stage_ = 0;
    stepper_.restart(t, y);
    resetCutoffClock();
    startValues_ = peakValues(model_, y, regime_, startSolution_);
    peaks_.take(startValues_);
    h_ = firstStep * precision_.firstSteps;
    lastStep_ = 0.0;
    if (trace_.wanted()) trace_.event(instantOf(model_, t, y, regime_, startSolution_, phase(), cutoffActed_));
}

double PassRun::nextStop() const {
    double stop = longestPass;
    if (!regime_.full && !exit_) stop = std::min(stop, model_.fullThrottleTime());
    if (belowSince_ && regime_.open) stop = std::min(stop, *belowSince_ + setup_.controller.cutoffDelay);
    if (reactionEnd_ && !regime_.braking) stop = std::min(stop, *reactionEnd_);
    if (stepper_.time() < stuckAfter + 1e-9 && stepper_.state()[X] < stuckDistance) stop = std::min(stop, stuckAfter);
    return stop;
}

void PassRun::countBound(double length) {
    if (regime_.open) {
        if (regime_.limit == Limit::MotorCurrent) bound_.motorCurrent += length;
        if (regime_.limit == Limit::PackCurrent) bound_.packCurrent += length;
        if (regime_.limit == Limit::Traction) bound_.traction += length;
        if (regime_.limit == Limit::Cutoff) bound_.cutoff += length;
    } else if (!exit_) {
        bound_.cutoff += length;
    }
}

bool PassRun::crowded() const { return crowd_ > mostAtOnce || events_ > mostEvents; }

void PassRun::advance() {
    const double stop = nextStop();
    const double left = stop - stepper_.time();
    if (left <= 0.0) {
        handleStop();
        return;
    }
    const double wanted = std::min({left, regime_.open ? precision_.longestStep : longestClosedStep, untilRest()});
    const std::optional<Border> border = stepToBorder(wanted);
    const bool reachesStop = !border && stepper_.stepLength() == left;
    ++steps_;
    // Creeping towards its peak, speed is held by stability alone and a step at that edge blurs where a = 0.
    if (regime_.open && std::abs(endSolution_.acceleration) < creeping) {
        const double rate = stepper_.rateOf(V);
        if (rate * h_ > 2.0) h_ = 2.0 / rate;
    }
    watchStep();
    const double length = stepper_.stepLength();
    countBound(length);
    foresight_.advance(length);
    stepper_.accept();
    refuseRunaway(stepper_.state());
    startSolution_ = endSolution_;
    if (stepper_.state()[V] > restSpeed) watch_.rolled = true;
    if (border)
        handleBorder(*border);
    else if (reachesStop && stepper_.time() >= nextStop() - 1e-12)
        handleStop();
    else if (crowded()) { // a border may have been walked over
        crowd_ = 0;
        model_.resolve(stepper_.time(), stepper_.state(), regime_, std::nullopt, hint_);
        enterSegment(stepAfterJump);
    }
}

void PassRun::closeThrottle() {
    exit_ = stepper_.time();
    exitSpeed_ = stepper_.state()[V];
    windingExit_ = stepper_.state()[TW];
    caseExit_ = stepper_.state()[TH];
    reactionEnd_ = stepper_.time() + setup_.driving.reaction;
    watch_.beforeExit = false;
    regime_.open = false;
    regime_.full = true;
    model_.resolve(stepper_.time(), stepper_.state(), regime_, std::nullopt, hint_);
}

void PassRun::handleBorder(Border border) {
    ++events_;
    const double t = stepper_.time();
    crowd_ = t - crowdTime_ <= 1e-9 ? crowd_ + 1 : 0;
    crowdTime_ = t;
    const State y = stepper_.state();
    if (trace_.wanted()) trace_.event(instantOf(model_, t, y, regime_, endSolution_, phase(), cutoffActed_));
    double first = stepAfterJump;
    switch (border) {
    case Border::Rest:
        ended_ = true;
        break;
    case Border::ZoneExit: {
        const bool held = atEdge(regime_);
        closeThrottle();
        if (held && !atEdge(regime_)) first = stepAfterSliding;
        break;
    }
    case Border::CutoffVoltage:
        watch_.belowCutoff = !watch_.belowCutoff;
        belowSince_ = watch_.belowCutoff ? std::optional(t) : std::nullopt;
        first = stepAfterBorder;
        break;
    default:
        first = cross(model_, border, {t, y, endSolution_}, regime_, hint_);
    }
    if (ended_) {
        if (!trace_.wanted()) return;
        regime_.moving = regime_.open = regime_.braking = regime_.sliding = false; // standing, throttle closed
        State still = y;
        still[V] = 0.0;
        const Solution s = model_.settle(t, still, regime_, hint_);
        trace_.event(instantOf(model_, t, still, regime_, s, Phase::Rest, cutoffActed_));
        return;
    }
    enterSegment(first);
}

void PassRun::handleStop() {
    ++events_;
    const double t = stepper_.time();
    const State& y = stepper_.state();
    if (trace_.wanted() && t > 0.0)
        trace_.event(instantOf(model_, t, y, regime_, startSolution_, phase(), cutoffActed_));
    const auto due = [t](double at) { return t >= at - 1e-12; };
    if (due(longestPass) || (due(stuckAfter) && t < stuckAfter + 1e-9 && y[X] < stuckDistance)) {
        timedOut_ = true;
        ended_ = true;
        return;
    }
    if (belowSince_ && regime_.open && due(*belowSince_ + setup_.controller.cutoffDelay)) {
        cutoffActed_ = true;
        belowSince_.reset();
        regime_.open = false;
        model_.resolve(t, y, regime_, std::nullopt, hint_);
    }
    if (!regime_.full && !exit_ && due(model_.fullThrottleTime())) regime_.full = true;
    if (reactionEnd_ && !regime_.braking && due(*reactionEnd_)) {
        regime_.braking = true;
        brakeStart_ = y[X];
        model_.resolve(t, y, regime_, std::nullopt, hint_);
    }
    enterSegment(stepAfterJump);
}

} // namespace rw::pass
