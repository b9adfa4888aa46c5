#include "core/pass/pass_run.h"

#include "core/units.h"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>

namespace rw::pass {

namespace {

constexpr double stuckAfter = 10.0, stuckDistance = 1e-3;  // s, m: physics.md 10
constexpr double longestPass = 600.0;                      // s
constexpr int endStage = 12;
// A limit may take over and let go within one long step: first steps after a change are short, and none is long.
// Leaving the edge of sliding, the slip runs like a cube root of time: shorter still.
constexpr double firstStep = 1e-3, stepAfterJump = 5e-3, stepAfterBorder = 2e-2, stepAfterSliding = 1e-4, longestStep = 0.5, longestClosedStep = 2.0;
constexpr double shortestStep = 1e-12;
constexpr double creeping = 0.1;  // m/s²
constexpr int crowded = 30;       // borders at one instant before the loop walks on without them for a step
constexpr int mostEvents = 5000;  // of a pass, likewise: only a setup that chatters at a border has so many

// Bracketed root, share of a step; where f falls from not negative at `low` to negative at `high`. Returns the right end.
template<class F>
double bracketedRoot(F&& f, double low, double high, double atLow, double atHigh, double stepLength, double time) {
    const double wanted = std::max(1e-13, 4e-16 * time) / std::max(stepLength, 1e-300);
    const auto close = [wanted](double a, double b) { return b - a <= wanted; };
    std::uintmax_t iterations = 100;
    return boost::math::tools::toms748_solve(f, low, high, atLow, atHigh, close, iterations).second;
}

State tolerances(double relative) {
    State a;
    a.fill(relative);
    a[V] *= 0.1;
    a[Z] *= 0.01;
    a[U1] *= 0.01;
    return a;
}

} // namespace

PassRun::PassRun(const PassSetup& setup, const StartState& start, const PassOptions& options, const InstantSink& sink)
    : model_(setup)
    , setup_(setup)
    , start_(start)
    , trace_(sink, options.traceRate)
    , stepper_(Rhs{this}, options.relativeTolerance, tolerances(options.relativeTolerance)) {
    watch_.zoneExit = setup.strip.runUp + setup.strip.timed;
    watch_.hardCutoff = setup.controller.cutoff == VoltageCutoff::Hard;
}

// The solver starts from what the stages before tell; on implicit steps from where it ended last.
void PassRun::foretell(double t) {
    if (stepper_.isStiff()) return;
    if (stage_ <= endStage)
        hint_ = foresight_.atStage(static_cast<std::size_t>(stage_), stepper_.stepLength());
    else
        hint_ = foresight_.within((t - stepper_.time()) / stepper_.stepLength());
}

void PassRun::rates(double t, const State& y, State& dydt) {
    foretell(t);
    const Solution s = model_.solve(t, y, regime_, hint_);
    model_.rates(y, regime_, s, dydt);
    if (stage_ <= endStage) foresight_.see(static_cast<std::size_t>(stage_), hint_);
    if (stage_ == 0) startSolution_ = s;
    for (std::size_t i = 0; i < innerStages.size(); ++i)
        if (static_cast<std::size_t>(stage_) == innerStages[i]) inner_[i] = {y, s};
    if (stage_ == endStage) endSolution_ = s;
    ++stage_;
}

Solution PassRun::solveAt(double share, State& y) {
    stage_ = endStage + 1;
    y = stepper_.dense(share);
    foretell(stepper_.time() + share * stepper_.stepLength());
    return model_.solve(stepper_.time() + share * stepper_.stepLength(), y, regime_, hint_);
}

Phase PassRun::phase() const {
    if (ended_) return Phase::Rest;
    if (exit_) return regime_.braking ? Phase::Brake : Phase::Coast;
    if (!regime_.moving) return Phase::Standing;
    return stepper_.state()[X] < setup_.strip.runUp ? Phase::RunUp : Phase::Timed;
}

PassResult PassRun::run() {
    State y{};
    y[Z] = start_.charge;
    y[U1] = setup_.pack.hasRc() ? start_.polarisation : 0.0;
    y[TW] = start_.winding;
    y[TH] = start_.motorCase;
    y[TC] = start_.controller;
    y[TP] = start_.pack;
    const OpenCircuitVoltage& ocv = setup_.pack.ocv;
    regime_.ocvInterval = ocv.interval(y[Z]);
    if (regime_.ocvInterval > 0 && ocv.knot(regime_.ocvInterval - 1) == y[Z]) --regime_.ocvInterval;  // charge only falls
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
    h_ = firstStep;
    const Chassis& c = setup_.chassis;
    frontAtRest_ = c.mass * standardGravity / std::sqrt(1.0 + setup_.strip.grade * setup_.strip.grade) *
                   (c.wheelbase - c.cgBehindFront) / c.wheelbase;
    enterSegment(firstStep);
    while (!ended_) advance();
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
    h_ = firstStep;
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

// Where the error grows from step to step (towards the edge of sliding), so that the next one is not tried in vain.
// Source: Gustafsson's predictive control; Hairer & Wanner, Solving ODEs II, IV.8.
double PassRun::foreseen(double h, double error, double next) const {
    if (lastStep_ == 0.0 || !(error > lastError_) || lastError_ <= 0.0) return next;
    return std::min(next, next * h / lastStep_ * std::pow(lastError_ / error, 1.0 / 8.0));
}

// A step that ends just past the rest speed: no stage looks at a vehicle that rolls backwards.
double PassRun::untilRest() const {
    const double a = startSolution_.acceleration;
    if (!regime_.moving || !watch_.rolled || !(a < 0.0)) return longestPass;
    return std::max(1.05 * (stepper_.state()[V] - restSpeed) / -a, 1e-6);
}

// Tries steps until one is sound, and so is its part up to the first border, if it crosses one.
std::optional<Border> PassRun::stepToBorder(double wanted) {
    double h = std::min(h_, wanted);
    bool refused = false;
    for (;;) {
        stage_ = stepper_.isStiff() ? endStage + 1 : 1;
        double error = stepper_.attempt(h);
        if (error > 1.0 && h < shortestStep && !stepper_.isStiff()) {
            stepper_.goStiff();
            h = std::min(firstStep, wanted);
            continue;
        }
        double next = stepper_.resized(h, error);
        if (error <= 1.0 || h < shortestStep) {
            next = foreseen(h, error, refused ? std::min(next, h) : next);
            finishStep();
            const std::optional<Border> border = locate(error);
            if (error <= 1.0 || stepper_.stepLength() < shortestStep) {
                if (h < wanted || next < h_) h_ = std::max(next, 1e-9);
                lastStep_ = h;
                lastError_ = error;
                return border;
            }
            next = stepper_.resized(stepper_.stepLength(), error);
        }
        refused = true;
        h = next;
    }
}

void PassRun::advance() {
    const double stop = nextStop();
    const double left = stop - stepper_.time();
    if (left <= 0.0) {
        handleStop();
        return;
    }
    const double wanted = std::min({left, regime_.open ? longestStep : longestClosedStep, untilRest()});
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
    if (regime_.open) {
        if (regime_.limit == Limit::MotorCurrent) bound_.motorCurrent += length;
        if (regime_.limit == Limit::PackCurrent) bound_.packCurrent += length;
        if (regime_.limit == Limit::Traction) bound_.traction += length;
        if (regime_.limit == Limit::Cutoff) bound_.cutoff += length;
    } else if (!exit_) {
        bound_.cutoff += length;
    }
    foresight_.advance(length);
    stepper_.accept();
    startSolution_ = endSolution_;
    if (stepper_.state()[V] > restSpeed) watch_.rolled = true;
    if (border)
        handleBorder(*border);
    else if (reachesStop && stepper_.time() >= nextStop() - 1e-12)
        handleStop();
    else if (crowd_ > crowded || events_ > mostEvents) {  // a border may have been walked over
        crowd_ = 0;
        model_.resolve(stepper_.time(), stepper_.state(), regime_, std::nullopt, hint_);
        enterSegment(stepAfterJump);
    }
}

std::optional<Border> PassRun::locate(double& error) {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    if (crowd_ > crowded || events_ > mostEvents) return std::nullopt;
    const auto marginsAt = [&](double share) {
        State y;
        const Solution s = solveAt(share, y);
        return marginsOf(model_, t + share * h, y, regime_, s, watch_);
    };
    double high = 1.0;
    Margins atHigh = marginsOf(model_, t + h, stepper_.nextState(), regime_, endSolution_, watch_);
    for (std::size_t i = 0; i < inner_.size(); ++i) {
        const double share = dop853::c[innerStages[i]];
        if (!crossed(marginsOf(model_, t + share * h, inner_[i].state, regime_, inner_[i].solution, watch_))) continue;
        const Margins there = marginsAt(share);  // the stage is an estimate: look at the true one
        if (!crossed(there)) continue;
        high = share;
        atHigh = there;
        break;
    }
    if (!crossed(atHigh)) return std::nullopt;
    const double atLow =
        leastMargin(marginsOf(model_, t, stepper_.state(), regime_, startSolution_, watch_));
    const double share = bracketedRoot([&](double x) { return leastMargin(marginsAt(x)); }, 0.0, high, std::max(atLow, 1e-15),
                                       leastMargin(atHigh), h, t);
    const Margins there = share < high ? marginsAt(share) : atHigh;
    const auto border = static_cast<Border>(std::min_element(there.begin(), there.end()) - there.begin());
    if (share < 1.0) error = shorten(share);
    return border;
}

double PassRun::shorten(double share) {
    stage_ = stepper_.isStiff() ? endStage + 1 : 1;
    const double error = stepper_.attempt(share * stepper_.stepLength());
    finishStep();
    return error;
}

void PassRun::finishStep() {
    stage_ = endStage;
    stepper_.finish();
    foresight_.settle();
    if (!stepper_.isStiff()) return;
    for (std::size_t i = 0; i < inner_.size(); ++i) inner_[i].solution = solveAt(dop853::c[innerStages[i]], inner_[i].state);
}

double PassRun::shareWhere(std::size_t index, double value) {
    const double low = value - stepper_.state()[index];
    const double high = value - stepper_.nextState()[index];
    if (high == 0.0) return 1.0;
    return bracketedRoot([&](double x) { stage_ = endStage + 1; return value - stepper_.dense(x)[index]; }, 0.0, 1.0, low,
                         high, stepper_.stepLength(), stepper_.time());
}

void PassRun::watchStep() {
    std::array<double, innerStages.size() + 2> shares{};
    std::array<PeakValues, innerStages.size() + 2> values;
    values.front() = startValues_;
    for (std::size_t i = 0; i < inner_.size(); ++i) {
        shares[i + 1] = dop853::c[innerStages[i]];
        values[i + 1] = peakValues(model_, inner_[i].state, regime_, inner_[i].solution);
    }
    shares.back() = 1.0;
    values.back() = peakValues(model_, stepper_.nextState(), regime_, endSolution_);
    peaks_.takeStep(shares, values, [this](double share) {
        State y;
        const Solution s = solveAt(share, y);
        return peakValues(model_, y, regime_, s);
    });
    startValues_ = values.back();
    watchMarks();
    if (regime_.moving) watchSpeedPeak();
    if (!trace_.wanted()) return;
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    while (trace_.nextTime() < t + h) {
        const double at = trace_.nextTime();
        State y;
        const Solution s = solveAt((at - t) / h, y);
        Phase now = phase();
        if (now == Phase::RunUp && y[X] >= setup_.strip.runUp) now = Phase::Timed;
        trace_.regular(instantOf(model_, at, y, regime_, s, now, cutoffActed_));
    }
}

void PassRun::watchMarks() {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    const State& from = stepper_.state();
    const State& to = stepper_.nextState();
    if (!entry_ && to[X] >= setup_.strip.runUp) {
        const double share = shareWhere(X, setup_.strip.runUp);
        entry_ = t + share * h;
        if (trace_.wanted()) {
            while (trace_.nextTime() < *entry_) {
                State y;
                const double at = trace_.nextTime();
                const Solution s = solveAt((at - t) / h, y);
                trace_.regular(instantOf(model_, at, y, regime_, s, Phase::RunUp, cutoffActed_));
            }
            State y;
            const Solution s = solveAt(share, y);
            trace_.event(instantOf(model_, *entry_, y, regime_, s, Phase::Timed, cutoffActed_));
        }
    }
    const auto& target = setup_.driving.target;
    if (target && !timeToTarget_ && from[V] < *target && to[V] >= *target) {
        const double share = shareWhere(V, *target);
        timeToTarget_ = t + share * h;
        stage_ = endStage + 1;
        distanceToTarget_ = stepper_.dense(share)[X];
    }
}

void PassRun::watchSpeedPeak() {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    if (startSolution_.acceleration > 0.0 && endSolution_.acceleration < 0.0) {
        const auto acceleration = [&](double x) {
            State y;
            return solveAt(x, y).acceleration;
        };
        const double share = bracketedRoot(acceleration, 0.0, 1.0, startSolution_.acceleration,
                                           endSolution_.acceleration, h, t);
        stage_ = endStage + 1;
        const State y = stepper_.dense(share);
        if (y[V] > peakSpeed_) {
            peakSpeed_ = y[V];
            peakSpeedAt_ = y[X];
            peakInner_ = true;
            peakSlope_ = 0.0;
        }
        const auto& target = setup_.driving.target;
        if (target && !timeToTarget_ && y[V] >= *target) {
            const auto missing = [&](double x) { stage_ = endStage + 1; return *target - stepper_.dense(x)[V]; };
            const double at = bracketedRoot(missing, 0.0, share, *target - stepper_.state()[V], *target - y[V], h, t);
            timeToTarget_ = t + at * h;
            stage_ = endStage + 1;
            distanceToTarget_ = stepper_.dense(at)[X];
        }
    }
    const State& to = stepper_.nextState();
    if (to[V] > peakSpeed_) {
        peakSpeed_ = to[V];
        peakSpeedAt_ = to[X];
        peakInner_ = false;
        peakSlope_ = endSolution_.acceleration;
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
    const bool held = atEdge(regime_);
    double first = stepAfterBorder;
    switch (border) {
    case Border::Throttle: regime_.limit = Limit::None; break;
    case Border::Motor: regime_.limit = Limit::MotorCurrent; break;
    case Border::Pack: regime_.limit = Limit::PackCurrent; break;
    case Border::SoftCutoff: regime_.limit = Limit::Cutoff; break;
    case Border::Traction:
        regime_.limit = Limit::Traction;
        regime_.sliding = false;
        break;
    case Border::Fold:
        first = stepAfterJump;
        model_.resolve(t, y, regime_, regime_.limit, hint_);
        break;
    case Border::Flow: regime_.flowing = !regime_.flowing; break;
    case Border::Push: regime_.pushing = !regime_.pushing; break;
    case Border::FrontUp: regime_.axles = regime_.axles == Axles::FrontUp ? Axles::Both : Axles::FrontUp; break;
    case Border::RearUp: regime_.axles = regime_.axles == Axles::RearUp ? Axles::Both : Axles::RearUp; break;
    case Border::Fly: model_.resolve(t, y, regime_, std::nullopt, hint_); break;
    case Border::Slide:
        regime_.sliding = !regime_.sliding;
        model_.settle(t, y, regime_, hint_);
        break;
    case Border::Calm: regime_.headOn = !regime_.headOn; break;
    case Border::OcvKnot: --regime_.ocvInterval; break;
    case Border::Start:
        regime_.moving = true;
        model_.resolve(t, y, regime_, std::nullopt, hint_);
        break;
    case Border::Rest: ended_ = true; break;
    case Border::ZoneExit:
        first = stepAfterJump;
        closeThrottle();
        break;
    case Border::CutoffVoltage:
        watch_.belowCutoff = !watch_.belowCutoff;
        belowSince_ = watch_.belowCutoff ? std::optional(t) : std::nullopt;
        break;
    case Border::Count_: break;
    }
    const bool axlesChanged = border == Border::FrontUp || border == Border::RearUp;
    if (axlesChanged && regime_.open && endSolution_.drivenLoad <= 0.0)  // the driven wheels are down again
        model_.resolve(t, y, regime_, std::nullopt, hint_);
    if (border <= Border::Traction) model_.settle(t, y, regime_, hint_);
    if (ended_) {
        if (!trace_.wanted()) return;
        regime_.moving = regime_.open = regime_.braking = regime_.sliding = false;  // standing, throttle closed
        State still = y;
        still[V] = 0.0;
        const Solution s = model_.settle(t, still, regime_, hint_);
        trace_.event(instantOf(model_, t, still, regime_, s, Phase::Rest, cutoffActed_));
        return;
    }
    enterSegment(held && !atEdge(regime_) ? stepAfterSliding : first);
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

PassResult PassRun::result() {
    const State& y = stepper_.state();
    PassResult r;
    r.completed = exit_.has_value() && !timedOut_;
    if (r.completed) {
        r.zoneEntry = entry_;
        r.zoneExit = exit_;
        r.zoneMean = setup_.strip.timed / (*exit_ - *entry_);
        r.windingExit = windingExit_;
        r.caseExit = caseExit_;
        r.braking = brakeStart_ ? y[X] - *brakeStart_ : 0.0;
    }
    r.peakSpeed = peakSpeed_;
    r.peakSpeedAt = peakSpeedAt_;
    r.timeToTarget = timeToTarget_;
    r.distanceToTarget = distanceToTarget_;
    r.minPackVoltage = -peaks_.best(Peak::LowVoltage);
    r.minCellVoltage = r.minPackVoltage / static_cast<double>(setup_.pack.series);
    r.peakPackCurrent = peaks_.best(Peak::PackCurrent);
    r.peakMotorCurrent = peaks_.best(Peak::MotorCurrent);
    r.peakElectrical = peaks_.best(Peak::Electrical);
    r.peakShaft = peaks_.best(Peak::Shaft);
    r.peakMotorSpeed = peaks_.best(Peak::MotorSpeed);
    r.peakWheelSpeed = peaks_.best(Peak::WheelSpeed);
    r.ripple = std::max(peaks_.best(Peak::Ripple), 0.0);
    r.minFrontLoadRatio = -peaks_.best(Peak::LowFrontLoad) / frontAtRest_;
    r.windingPeak = peaks_.best(Peak::Winding);
    r.casePeak = peaks_.best(Peak::Case);
    r.controllerPeak = peaks_.best(Peak::Controller);
    r.packPeak = peaks_.best(Peak::Pack);
    r.chargeUsed = (start_.charge - y[Z]) * setup_.pack.capacity;
    r.energyUsed = y[WH];
    r.bound = bound_;
    r.stopAt = y[X];
    r.duration = stepper_.time();
    r.end = {y[Z], y[U1], y[TW], y[TH], y[TC], y[TP]};
    const SoakPeak soak = soakPeak(setup_, r.end);
    r.caseSoakPeak = soak.temperature;
    r.caseSoakPeakAfter = soak.after;
    r.steps = steps_;
    r.events = events_;
    return r;
}

bool PassRun::speedPeakIsFlat() const {
    constexpr double flat = 1e-9;  // physics.md 10: of the speed
    if (!(peakSpeed_ > 0.0)) return false;
    if (peakInner_) return exit_ && exitSpeed_ >= peakSpeed_ * (1.0 - flat);
    const double before = flat * peakSpeed_ * peakSpeed_ / std::max(peakSlope_, 1e-300);
    return before > 1e-7 * peakSpeedAt_;
}

} // namespace rw::pass
