// Steps of the event loop: tried, refused or shortened to the first border that they cross.
#include "core/pass/bracketed_root.h"
#include "core/pass/pass_run.h"

#include <algorithm>
#include <cmath>

namespace rw::pass {

namespace {

constexpr int endStage = static_cast<int>(foresight::endStage);
constexpr double shortestStep = 1e-12, firstStiffStep = 1e-3; // s

} // namespace

// The solver starts from what the stages before tell; on implicit steps from where it ended last.
void PassRun::foretell(double t) {
    if (stepper_.isStiff()) return;
    if (stage_ <= endStage && stepper_.cutShare() == 1.0)
        hint_ = foresight_.atStage(static_cast<std::size_t>(stage_), stepper_.stepLength());
    else
        hint_ = foresight_.within((t - stepper_.time()) / stepper_.stepLength() * stepper_.cutShare());
}

void PassRun::rates(double t, const State& y, State& dydt) {
    foretell(t);
    const Solution s = model_.solve(t, y, regime_, hint_);
    model_.rates(y, regime_, s, dydt);
    if (stage_ <= endStage) foresight_.see(static_cast<std::size_t>(stage_), hint_);
    if (stage_ == 0) startSolution_ = s;
    if (const auto place = std::ranges::find(innerStages, stage_); place != innerStages.end())
        inner_[static_cast<std::size_t>(place - innerStages.begin())] = {y, s};
    if (stage_ == endStage) endSolution_ = s;
    ++stage_;
}

State PassRun::stateAt(double share) {
    stage_ = endStage + 1;
    return stepper_.dense(share);
}

Solution PassRun::solveAt(double share, State& y) {
    y = stateAt(share);
    foretell(stepper_.time() + share * stepper_.stepLength());
    return model_.solve(stepper_.time() + share * stepper_.stepLength(), y, regime_, hint_);
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
        if (++attempts_ > mostAttempts) giveUp("pass");
        stage_ = stepper_.isStiff() ? endStage + 1 : 1;
        double error = stepper_.attempt(h);
        if (error > 1.0 && h < shortestStep && !stepper_.isStiff()) {
            stepper_.goStiff();
            h = std::min(firstStiffStep, wanted);
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

BorderDistances PassRun::distancesAt(double share) {
    State y;
    const Solution s = solveAt(share, y);
    return borderDistances(model_, stepper_.time() + share * stepper_.stepLength(), y, regime_, s, watch_);
}

std::optional<Border> PassRun::locate(double& error) {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    if (crowded()) return std::nullopt;
    const auto [high, atHigh] = firstSeen(
        inner_, borderDistances(model_, t + h, stepper_.nextState(), regime_, endSolution_, watch_),
        [&](const Place& place, double share) {
            return borderDistances(model_, t + share * h, place.state, regime_, place.solution, watch_);
        },
        [&](double share) { return distancesAt(share); });
    if (!crossed(atHigh)) return std::nullopt;
    const double share = firstCrossing(high, atHigh);
    const BorderDistances there = share < high ? distancesAt(share) : atHigh;
    const auto border = static_cast<Border>(std::min_element(there.begin(), there.end()) - there.begin());
    if (share < 1.0) error = shorten(share, error);
    return border;
}

// The right end of the bracket around the first border crossed up to `high`, a share of the step.
double PassRun::firstCrossing(double high, const BorderDistances& atHigh) {
    const double t = stepper_.time();
    const double h = stepper_.stepLength();
    const BorderDistances atLow = borderDistances(model_, t, stepper_.state(), regime_, startSolution_, watch_);
    const auto root = [&](auto&& f, double low, double there) {
        return bracketedRoot(f, 0.0, high, std::max(low, 1e-15), there, h, t, precision_.eventTime);
    };
    const auto isCrossed = [](double distance) { return lifted(distance) < 0.0; };
    if (std::count_if(atHigh.begin(), atHigh.end(), isCrossed) == 1) { // its own distance is smooth: found soon
        const auto place = static_cast<std::size_t>(std::min_element(atHigh.begin(), atHigh.end()) - atHigh.begin());
        const auto border = static_cast<Border>(place);
        const bool ofState = distanceOfState(model_, stepper_.state(), regime_, watch_, border).has_value();
        const auto distance = [&](double share) {
            return lifted(ofState ? *distanceOfState(model_, stateAt(share), regime_, watch_, border)
                                  : distancesAt(share)[place]);
        };
        const double share = root(distance, lifted(atLow[place]), lifted(atHigh[place]));
        if (share == high) return share;
        const BorderDistances there = distancesAt(share);
        if (std::count_if(there.begin(), there.end(), isCrossed) == 1 && isCrossed(there[place])) return share;
    }
    return root([&](double share) { return leastDistance(distancesAt(share)); }, leastDistance(atLow),
                leastDistance(atHigh));
}

double PassRun::shorten(double share, double error) {
    if (precision_.cutSteps && !stepper_.isStiff()) {
        stepper_.cut(share);
    } else {
        stage_ = stepper_.isStiff() ? endStage + 1 : 1;
        error = stepper_.attempt(share * stepper_.stepLength());
    }
    finishStep();
    return error;
}

void PassRun::finishStep() {
    stage_ = endStage;
    stepper_.finish();
    const bool cut = stepper_.cutShare() < 1.0;
    if (!cut) foresight_.settle();
    if (!stepper_.isStiff() && !cut) return;
    for (std::size_t i = 0; i < inner_.size(); ++i)
        inner_[i].solution = solveAt(innerShare(i), inner_[i].state);
}

double PassRun::shareWhere(std::size_t index, double value) {
    const double low = value - stepper_.state()[index];
    const double high = value - stepper_.nextState()[index];
    if (high == 0.0) return 1.0;
    return bracketedRoot([&](double x) { return value - stateAt(x)[index]; }, 0.0, 1.0, low, high,
                         stepper_.stepLength(), stepper_.time(), precision_.eventTime);
}

} // namespace rw::pass
