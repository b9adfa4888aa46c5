#include "core/pass/driven_run.h"

#include "core/pass/borders.h"
#include "core/pass/bracketed_root.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace pass {

namespace {

constexpr double longestOpenStep = 0.25, longestClosedStep = 1.0, shortestStep = 1e-12; // s
constexpr double longestAfterKnot = 0.1;                                                // s: rows are closer
constexpr double longestRollStep = 0.1;                                                 // s: heat is slow
constexpr int endStage = static_cast<int>(foresight::endStage);

// A recorded duty shows a hard cutoff; in the model it would act once more.
PassSetup withoutHardCutoff(PassSetup setup) {
    if (setup.controller.cutoff == CutoffMode::Hard) setup.controller.cutoff = CutoffMode::Off;
    return setup;
}

// Between three places that are inside: where a parabola through them dips lowest, if it does so far below them.
std::optional<double> dipOf(const std::array<double, 3>& x, const std::array<double, 3>& y) {
    if (!(y[1] < y[0] && y[1] <= y[2])) return std::nullopt;
    const double before = (y[1] - y[0]) / (x[1] - x[0]), after = (y[2] - y[1]) / (x[2] - x[1]);
    const double bend = (after - before) / (x[2] - x[0]);
    const double slope = before + bend * (x[1] - x[0]); // at x[1]
    constexpr double far = 0.5;                         // of the lowest seen
    if (!(slope * slope > 4.0 * bend * far * y[1])) return std::nullopt;
    return x[1] - 0.5 * slope / bend;
}

} // namespace

DrivenRun::DrivenRun(const PassSetup& setup, const StartState& start, const DriveRecord& drive,
                     std::span<const double> times)
    : setup_(withoutHardCutoff(setup))
    , model_(setup_)
    , drive_(drive)
    , times_(times)
    , stepper_(Rhs{this}, drive.relativeTolerance, tolerances(drive.relativeTolerance)) {
    y_ = stateOf(setup_, start);
    watch_.beforeExit = false;
    out_.samples.reserve(times.size());
}

void DrivenRun::rates(double t, const State& y, State& dydt) {
    last_ = model_.solve(t, y, regime_, hint_);
    model_.rates(y, regime_, last_, dydt);
    if (const auto place = std::ranges::find(innerStages, stage_); place != innerStages.end())
        inner_[static_cast<std::size_t>(place - innerStages.begin())] = {y, last_};
    ++stage_;
}

double DrivenRun::attempt(double h) {
    stage_ = stepper_.isStiff() ? endStage : 1;
    return stepper_.attempt(h);
}

void DrivenRun::finish() {
    stage_ = endStage;
    stepper_.finish();
    endSolution_ = last_;
    if (!stepper_.isStiff()) return;
    for (std::size_t i = 0; i < inner_.size(); ++i) {
        State& y = inner_[i].state;
        y = stepper_.dense(innerShare(i));
        inner_[i].solution = model_.solve(stepper_.time() + innerShare(i) * stepper_.stepLength(), y, regime_, hint_);
    }
}

void DrivenRun::keep(const State& y, const Solution& s) {
    const double speed = regime_.moving ? y[V] : 0.0;
    out_.samples.push_back({speed, y[X], s.duty, s.packVoltage, s.packCurrent, s.motorCurrent,
                            regime_.moving ? s.motorSpeed : 0.0, y[TH], y[TC], y[TP],
                            regime_.moving && regime_.open && atEdge(regime_)});
    ++next_;
}

void DrivenRun::keepStanding(const StartState& state) {
    const Pack& pack = setup_.pack;
    const double current = setup_.controller.auxiliaryCurrent;
    const double volts = static_cast<double>(pack.series) * pack.ocv.at(state.charge) - state.polarisation -
                         current * pack.resistance(state.pack);
    out_.samples.push_back({0.0, y_[X], 0.0, volts, current, 0.0, 0.0, state.motorCase, state.controller, state.pack});
    ++next_;
}

void DrivenRun::stand(double until) {
    const bool closed = setup_.pack.resistanceB == 0.0 || setup_.controller.auxiliaryCurrent == 0.0;
    if (!closed) {
        standStepping(until);
        return;
    }
    StartState state = startOf(y_);
    while (next_ < times_.size() && times_[next_] < until) {
        state = standFor(setup_, state, times_[next_] - time_);
        time_ = times_[next_];
        keepStanding(state);
    }
    state = standFor(setup_, state, until - time_);
    time_ = until;
    y_[Z] = state.charge;
    y_[U1] = state.polarisation;
    y_[TW] = state.winding;
    y_[TH] = state.motorCase;
    y_[TC] = state.controller;
    y_[TP] = state.pack;
}

// A pack whose resistance depends on its temperature has no closed form: the same right-hand side at rest.
void DrivenRun::standStepping(double until) {
    if (!(until > time_)) return;
    const Regime before = regime_;
    regime_ = {};
    regime_.open = regime_.flowing = regime_.pushing = false;
    regime_.ocvInterval = before.ocvInterval;
    y_[V] = 0.0;
    begin(time_, y_, std::min(stepAfterBorder, until - time_));
    while (stepper_.time() < until) {
        if (++attempts_ > mostAttempts) giveUp("wait");
        const double t = stepper_.time();
        const double h = std::min(h_, until - t);
        const double error = stepper_.attempt(h);
        h_ = stepper_.resized(h, error);
        if (error > 1.0 && h > shortestStep) continue;
        stepper_.finish();
        for (; next_ < times_.size() && times_[next_] < t + h;)
            keepStanding(startOf(stepper_.dense((times_[next_] - t) / h)));
        stepper_.accept();
    }
    time_ = until;
    y_ = stepper_.state();
    regime_ = before;
}

void DrivenRun::begin(double time, const State& y, double firstStep) {
    stepper_.restart(time, y);
    startSolution_ = last_;
    h_ = firstStep;
}

void DrivenRun::takeLine(std::size_t knot) {
    const DutyKnot from = drive_.duty[knot];
    regime_.driven = true;
    regime_.lineFrom = from.time;
    regime_.lineDuty = from.duty;
    regime_.lineSlope = 0.0;
    if (knot + 1 == drive_.duty.size()) return;
    const DutyKnot to = drive_.duty[knot + 1];
    if (to.time > from.time) regime_.lineSlope = (to.duty - from.duty) / (to.time - from.time);
}

// Root of the least margin over the step just tried, which is then shortened to it.
std::optional<Border> DrivenRun::locate() {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    const auto distancesAt = [&](double share) {
        const State y = stepper_.dense(share);
        return borderDistances(model_, t + share * h, y, regime_, model_.solve(t + share * h, y, regime_, hint_),
                               watch_);
    };
    constexpr std::size_t end = innerStages.size() + 1;
    std::array<double, end + 1> shares{}, least{};
    std::size_t place = 0;
    const auto note = [&](double share, const BorderDistances& distances) {
        shares[place] = share;
        least[place++] = leastDistance(distances);
        return distances;
    };
    note(0.0, borderDistances(model_, t, stepper_.state(), regime_, startSolution_, watch_));
    Seen seen = firstSeen(
        inner_, borderDistances(model_, t + h, stepper_.nextState(), regime_, endSolution_, watch_),
        [&](const Place& inner, double share) {
            return note(share, borderDistances(model_, t + share * h, inner.state, regime_, inner.solution, watch_));
        },
        distancesAt);
    if (!crossed(seen.distances)) {
        note(1.0, seen.distances);
        for (std::size_t i = 1; i < end && !crossed(seen.distances); ++i)
            if (const auto dip =
                    dipOf({shares[i - 1], shares[i], shares[i + 1]}, {least[i - 1], least[i], least[i + 1]}))
                seen = {*dip, distancesAt(*dip)};
        if (!crossed(seen.distances)) return std::nullopt;
    }
    const double share =
        bracketedRoot([&](double x) { return leastDistance(distancesAt(x)); }, 0.0, seen.share,
                      std::max(least[0], 1e-15), leastDistance(seen.distances), h, t, fullPrecision.eventTime);
    const BorderDistances there = share < seen.share ? distancesAt(share) : seen.distances;
    const auto border = static_cast<Border>(std::min_element(there.begin(), there.end()) - there.begin());
    if (share < 1.0) {
        attempt(share * h);
        finish();
    }
    return border;
}

// While rolling at known speeds: linear within the short steps there.
void DrivenRun::markRolling(double from, double to, double distanceFrom) {
    const auto place = [&](double distance, std::optional<double>& at) {
        if (at || y_[X] < distance) return;
        at = y_[X] > distanceFrom ? from + (to - from) * (distance - distanceFrom) / (y_[X] - distanceFrom) : from;
    };
    place(setup_.strip.runUp, entry_);
    place(setup_.strip.runUp + setup_.strip.timed, exit_);
}

void DrivenRun::watchStep() {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    const State& to = stepper_.nextState();
    out_.peakSpeed = std::max(out_.peakSpeed, to[V]);
    while (next_ < times_.size() && times_[next_] < t + h) {
        const double share = (times_[next_] - t) / h;
        const State y = stepper_.dense(share);
        keep(y, model_.solve(times_[next_], y, regime_, hint_));
        out_.peakSpeed = std::max(out_.peakSpeed, y[V]);
    }
    const auto place = [&](double distance, std::optional<double>& at) {
        if (at || to[X] < distance) return;
        const double before = distance - stepper_.state()[X];
        const double share =
            to[X] == distance ? 1.0
                              : bracketedRoot([&](double x) { return distance - stepper_.dense(x)[X]; }, 0.0, 1.0,
                                              std::max(before, 0.0), distance - to[X], h, t, fullPrecision.eventTime);
        at = t + share * h;
    };
    if (exit_) return;
    place(setup_.strip.runUp, entry_);
    place(setup_.strip.runUp + setup_.strip.timed, exit_);
}

bool DrivenRun::step(double until) {
    const double t = stepper_.time();
    double h = std::min({h_, until - t, regime_.open ? longestOpenStep : longestClosedStep});
    const double a = startSolution_.acceleration;
    if (regime_.moving && watch_.rolled && a < 0.0)
        h = std::min(h, std::max(1.05 * (stepper_.state()[V] - restSpeed) / -a, 1e-6));
    const bool whole = h == until - t;
    for (;;) {
        if (++attempts_ > mostAttempts) giveUp("driven pass");
        const double error = attempt(h);
        const double next = stepper_.resized(h, error);
        if (error <= 1.0 || h < shortestStep) {
            if (!whole || next < h_) h_ = std::max(next, 1e-9);
            break;
        }
        h = next;
        h_ = std::max(next, 1e-9);
    }
    finish();
    refuseRunaway(stepper_.nextState());
    const std::optional<Border> border = locate();
    watchStep();
    stepper_.accept();
    startSolution_ = endSolution_;
    if (stepper_.state()[V] > restSpeed) watch_.rolled = true;
    if (!border) return true;
    if (*border == Border::Rest) return false;
    const State y = stepper_.state();
    const double first = cross(model_, *border, {stepper_.time(), y, endSolution_}, regime_, hint_);
    begin(stepper_.time(), y, first);
    return true;
}

void DrivenRun::driveSegment(double until) {
    while (!resting_ && stepper_.time() < until) {
        if (step(until)) continue;
        resting_ = true;
        regime_.moving = false;
    }
    time_ = stepper_.time();
    y_ = stepper_.state();
    if (resting_) y_[V] = 0.0;
}

void DrivenRun::drive(double until, bool jump) {
    if (!jump && regime_.moving) {
        begin(time_, y_, std::min(h_, longestAfterKnot));
        driveSegment(until);
        return;
    }
    model_.resolve(time_, y_, regime_, std::nullopt, hint_);
    if (!regime_.moving) {
        Regime moving = regime_;
        moving.moving = true;
        model_.resolve(time_, y_, moving, std::nullopt, hint_);
        if (model_.solve(time_, y_, moving, hint_).acceleration > 0.0) regime_ = moving;
    }
    begin(time_, y_, std::min(h_, stepAfterJump));
    driveSegment(until);
}

// The surface's speed is known: what integrates is the speed over ground behind it, charge and heat, all slow.
void DrivenRun::roll() {
    regime_.open = false;
    regime_.braking = true;
    regime_.flowing = regime_.pushing = false;
    for (std::size_t k = 0; k + 1 < drive_.rolling.size() && time_ < drive_.end; ++k) {
        const SpeedKnot from = drive_.rolling[k], to = drive_.rolling[k + 1];
        if (!(to.time > time_)) continue;
        const double start = time_, before = y_[V];
        const double after = model_.rolledSpeed(y_, regime_, to.speed, to.time - start);
        const double acceleration = (after - before) / (to.time - start);
        const double surfaceSlope = (to.speed - from.speed) / (to.time - from.time);
        regime_.headOn = 0.5 * (before + after) + setup_.strip.headWind >= 0.0;
        const auto speedAt = [&](double t) { return before + acceleration * (t - start); };
        const auto at = [&](double t, State y) {
            y[V] = speedAt(t);
            return model_.rolling(y, regime_, from.speed + surfaceSlope * (t - from.time), acceleration);
        };
        rollTo(std::min(to.time, drive_.end), at, speedAt);
    }
    y_[V] = 0.0;
    resting_ = true;
}

template<class At, class Speed>
void DrivenRun::rollTo(double until, const At& at, const Speed& speedAt) {
    while (time_ < until) {
        double h = std::min(longestRollStep, until - time_);
        const bool told = next_ < times_.size() && times_[next_] <= time_ + h;
        if (told) h = std::max(times_[next_] - time_, 0.0);
        const auto moved = [&](double t, const State& y, double by) { // by so long at the rates of t
            State base = y, slope{};
            base[V] = speedAt(t);
            model_.rates(base, regime_, at(t, y), slope);
            State out = y_;
            for (std::size_t i = 0; i < stateSize; ++i)
                out[i] += by * slope[i];
            return out;
        };
        const double before = y_[X];
        y_ = moved(time_ + h / 2, moved(time_, y_, h / 2), h);
        refuseRunaway(y_);
        markRolling(time_, time_ + h, before);
        time_ += h;
        y_[V] = speedAt(time_);
        if (told) keep(y_, at(time_, y_));
    }
}

DrivenResult DrivenRun::run() {
    regime_.ocvInterval = setup_.pack.ocv.interval(y_[Z]);
    const double opens = drive_.duty.empty() ? drive_.end : std::min(drive_.duty.front().time, drive_.end);
    stand(opens);
    regime_.ocvInterval = fallingInterval(setup_.pack.ocv, y_[Z]);
    regime_.full = true;
    h_ = stepAfterJump;
    const double close = std::min(drive_.close, drive_.end);
    for (std::size_t k = 0; k < drive_.duty.size() && time_ < close; ++k) {
        const double until = k + 1 < drive_.duty.size() ? std::min(drive_.duty[k + 1].time, close) : close;
        if (!(until > drive_.duty[k].time)) continue;
        const double before = regime_.lineDuty + regime_.lineSlope * (time_ - regime_.lineFrom);
        const bool jump = !regime_.driven || std::abs(before - drive_.duty[k].duty) > 1e-9;
        takeLine(k);
        resting_ = false;
        drive(until, jump);
        if (resting_) stand(until);
    }
    regime_.open = false;
    regime_.driven = false;
    if (!drive_.rolling.empty() && regime_.moving) {
        roll();
    } else if (regime_.moving) {
        const double brake = drive_.brakeAfter ? close + *drive_.brakeAfter : drive_.end;
        h_ = stepAfterJump;
        drive(std::min(brake, drive_.end), true);
        if (!resting_ && time_ < drive_.end) {
            regime_.braking = true;
            h_ = stepAfterJump;
            drive(drive_.end, true);
        }
    }
    stand(drive_.end);
    while (next_ < times_.size())
        keepStanding(startOf(y_));
    out_.end = startOf(y_);
    if (entry_ && exit_ && *exit_ > *entry_) out_.zoneMean = setup_.strip.timed / (*exit_ - *entry_);
    return std::move(out_);
}

} // namespace pass

DrivenResult driveThrough(const PassSetup& setup, const StartState& start, const DriveRecord& drive,
                          std::span<const double> times) {
    return pass::DrivenRun(setup, start, drive, times).run();
}

} // namespace rw
