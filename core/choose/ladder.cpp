#include "core/choose/ladder.h"

#include "core/choose/changed_plan.h"
#include "core/choose/judged.h"
#include "core/choose/ladder_step.h"
#include "core/error.h"
#include "core/plan/plan_convert.h"
#include "core/plan/reach_binding.h"
#include "core/plan/scan.h"
#include "core/stopped.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace rw {

namespace {

constexpr int usualMostCells = 12;

std::vector<double> speedsOf(double proven, double target, double step) {
    std::vector<double> out;
    for (double speed = proven; speed < target;)
        out.push_back(speed = std::min(target, speed * (1.0 + step)));
    return out;
}

void checkAsked(double proven, double target, const LadderOptions& options) {
    if (!std::isfinite(proven) || proven <= 0.0) throw InputError("proven", "expected a speed over 0 m/s");
    if (!std::isfinite(target) || target <= 0.0) throw InputError("target", "expected a speed over 0 m/s");
    if (target <= proven)
        throw InputError("target",
                         "is not over the proven speed; expected a faster one, for there is nothing to climb");
    if (!(options.step >= 0.001 && options.step <= 1.0))
        throw InputError("step", "is out of range; expected 0.001 to 1, a share of the speed before");
}

class Climb {
public:
    Climb(const PlanInput& start, const LadderOptions& options)
        : now_(start)
        , options_(options) {}

    [[nodiscard]] const PlanInput& now() const { return now_; }

    [[nodiscard]] bool asItIs(double speed) {
        const PlanInput plan = aiming(now_, speed);
        const auto judged = judgedPass(plan, convertedSetup(plan));
        return judged && judged->withinLimits && judged->makesTarget;
    }
    // The smallest change that makes it within limits; none: the nearest try is kept.
    [[nodiscard]] std::optional<PlanInput> changed(double speed) {
        nearest_.reset();
        const int most = std::max(now_.controller.max_cells.value_or(usualMostCells), now_.pack.series);
        for (int cells = now_.pack.series; cells <= most; ++cells) {
            if (auto found = regeared(aiming(withCells(now_, cells), speed))) return found;
        }
        return std::nullopt;
    }
    void take(const PlanInput& plan) { now_ = plan; }
    [[nodiscard]] LadderBlock block(double speed) const;

private:
    struct Try {
        PlanInput plan;
        bool makes = false;
        double margin = 0.0, mean = 0.0;
        std::string_view limit;
        [[nodiscard]] std::tuple<bool, double> nearness() const { return {makes, makes ? margin : mean}; }
    };

    static PlanInput aiming(PlanInput plan, double speed) {
        plan.drive.target_mps = speed;
        return plan;
    }
    std::optional<PlanInput> regeared(const PlanInput& plan);

    PlanInput now_;
    const LadderOptions& options_;
    std::optional<Try> nearest_;
};

// Pairs in the order of how much the overall ratio changes; sketched together, then in full until one holds.
std::optional<PlanInput> Climb::regeared(const PlanInput& plan) {
    PassSetup setup;
    try {
        setup = passSetup(plan);
    } catch (const InputError&) {
        return std::nullopt; // so many cells are more than a plan allows
    }
    const double ratio = ratioWith(now_, now_.gears.pinion_teeth, now_.gears.spur_teeth);
    std::vector<GearPair> pairs = fittingPairs(plan);
    const auto key = [&](const GearPair& pair) {
        return std::tuple(std::abs(pair.ratio - ratio), pair.pinion, pair.spur);
    };
    std::sort(pairs.begin(), pairs.end(), [&](const GearPair& a, const GearPair& b) { return key(a) < key(b); });
    const auto judged = [&](std::size_t i, const PassPrecision& precision) {
        PassSetup regeared = setup;
        regeared.gearing.ratio = pairs[i].ratio;
        return judgedPass(plan, regeared, precision);
    };
    std::vector<std::optional<JudgedPass>> sketches(pairs.size());
    parallelFor(pairs.size(), {options_.work.stop, {}, options_.work.threads},
                [&](std::size_t i) { sketches[i] = judged(i, sketchPrecision); });
    const double target = *plan.drive.target_mps;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        if (!sketches[i]) continue;
        const double mean = sketches[i]->pass.zoneMean.value_or(0.0);
        const bool makes = sketches[i]->makesTarget || std::abs(mean - target) < doubtOfSketches * target;
        const bool within = sketches[i]->pass.completed && sketches[i]->tightest.margin > -doubtOfSketches;
        if (makes && within) {
            const auto exact = judged(i, fullPrecision);
            if (exact && exact->withinLimits && exact->makesTarget) return geared(plan, pairs[i]);
        }
        Try here{geared(plan, pairs[i]), sketches[i]->makesTarget, sketches[i]->tightest.margin, mean,
                 sketches[i]->tightest.limit};
        if (!nearest_ || here.nearness() > nearest_->nearness()) nearest_ = std::move(here);
    }
    return std::nullopt;
}

LadderBlock Climb::block(double speed) const {
    LadderBlock out;
    out.speed = speed;
    if (!nearest_) { // no pair fits at all
        out.limit = "gears";
        out.margin = -1.0;
        return out;
    }
    const auto judged = judgedPass(nearest_->plan, convertedSetup(nearest_->plan)); // the figure told is the full one
    if (nearest_->makes && judged) {
        out.limit = judged->tightest.limit;
        out.margin = judged->tightest.margin;
        return out;
    }
    const PassSetup setup = convertedSetup(nearest_->plan);
    const double own = setup.gearing.ratio;
    constexpr double lowest = 0.5, highest = 50.0;
    const ReachVariable gearing(convertedStart(nearest_->plan), logSpaced(lowest, highest, 60), [setup](double ratio) {
        PassSetup other = setup;
        other.gearing.ratio = ratio;
        return other;
    });
    out.limit = whatBinds(gearing, own, options_.work);
    out.margin = (judged ? judged->pass.zoneMean.value_or(0.0) : 0.0) / speed - 1.0;
    return out;
}

struct Rung {
    double speed = 0.0;
    PlanInput before, plan;
};

} // namespace

Ladder climbLadder(const PlanInput& input, double proven, double target, const LadderOptions& options) {
    static_cast<void>(passSetup(input)); // refuses an invalid one
    checkAsked(proven, target, options);
    Ladder out;
    Climb climb(input, options);
    std::vector<Rung> rungs;
    double asItIs = 0.0; // how far the setup goes unchanged; the first change takes that over
    for (const double speed : speedsOf(proven, target, options.step)) {
        if (climb.asItIs(speed)) {
            (rungs.empty() ? asItIs : rungs.back().speed) = speed;
            continue;
        }
        auto next = climb.changed(speed);
        throwIfStopped(options.work.stop);
        if (!next) {
            out.blocked = climb.block(speed);
            break;
        }
        rungs.push_back({speed, climb.now(), *next});
        climb.take(*next);
    }
    if (rungs.empty() && asItIs > 0.0) rungs.push_back({asItIs, input, input});
    for (const Rung& rung : rungs) {
        LadderStep step;
        step.speed = rung.speed;
        step.plan = rung.plan;
        step.plan.drive.target_mps = rung.speed;
        describeStep(step, rung.before, options);
        out.steps.push_back(std::move(step));
        if (options.work.progress)
            options.work.progress(static_cast<double>(out.steps.size()) / static_cast<double>(rungs.size()));
    }
    return out;
}

} // namespace rw
