// Figures of a pass: what every step adds to them, and their sum.
#include "core/pass/bracketed_root.h"
#include "core/pass/pass_run.h"

#include <algorithm>
#include <cmath>

namespace rw::pass {

void PassRun::watchStep() {
    std::array<double, innerStages.size() + 2> shares{};
    std::array<PeakValues, innerStages.size() + 2> values;
    values.front() = startValues_;
    for (std::size_t i = 0; i < inner_.size(); ++i) {
        shares[i + 1] = innerShare(i);
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
        distanceToTarget_ = stateAt(share)[X];
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
                                           endSolution_.acceleration, h, t, precision_.eventTime);
        const State y = stateAt(share);
        if (y[V] > peakSpeed_) {
            peakSpeed_ = y[V];
            peakSpeedAt_ = y[X];
            peakInner_ = true;
            peakSlope_ = 0.0;
        }
        const auto& target = setup_.driving.target;
        if (target && !timeToTarget_ && y[V] >= *target) {
            const auto missing = [&](double x) { return *target - stateAt(x)[V]; };
            const double at = bracketedRoot(missing, 0.0, share, *target - stepper_.state()[V], *target - y[V], h, t,
                                            precision_.eventTime);
            timeToTarget_ = t + at * h;
            distanceToTarget_ = stateAt(at)[X];
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
    r.minFrontLoadRatio = frontAtRest_ > 0.0 ? -peaks_.best(Peak::LowFrontLoad) / frontAtRest_ : 0.0;
    r.windingPeak = peaks_.best(Peak::Winding);
    r.casePeak = peaks_.best(Peak::Case);
    r.controllerPeak = peaks_.best(Peak::Controller);
    r.packPeak = peaks_.best(Peak::Pack);
    r.chargeUsed = (start_.charge - y[Z]) * setup_.pack.capacity;
    r.energyUsed = y[WH];
    r.bound = bound_;
    r.stopAt = y[X];
    r.duration = stepper_.time();
    r.end = startOf(y);
    const SoakPeak soak = soakPeak(setup_, r.end);
    r.caseSoakPeak = soak.temperature;
    r.caseSoakPeakAfter = soak.after;
    r.steps = steps_;
    r.events = events_;
    return r;
}

bool PassRun::speedPeakIsFlat() const {
    constexpr double flat = 1e-9; // core/physics/README.md 10: of the speed
    constexpr double told = 5e-6; // of the place: nearer to it the exit, where the speed is largest, is the answer
    if (!(peakSpeed_ > 0.0)) return false;
    if (peakInner_) return exit_ && exitSpeed_ >= peakSpeed_ * (1.0 - flat);
    const double before = flat * peakSpeed_ * peakSpeed_ / std::max(peakSlope_, 1e-300);
    return before > told * peakSpeedAt_;
}

} // namespace rw::pass
