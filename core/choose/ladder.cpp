#include "core/choose/ladder.h"

#include "core/choose/changed_plan.h"
#include "core/error.h"
#include "core/plan/limits.h"
#include "core/plan/plan_fields.h"
#include "core/plan/reach_binding.h"
#include "core/plan/scan.h"
#include "core/plan/spread.h"
#include "core/stopped.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace rw {

namespace {

constexpr std::array<std::string_view, 10> expected{
    "zone_mean_mps",  "peak_speed_mps",    "peak_pack_A", "min_cell_V",           "case_soak_peak_C",
    "winding_peak_C", "controller_peak_C", "pack_peak_C", "min_front_load_ratio", "stop_at_m"};

// What is looked at between two steps, and the limit it runs towards. Figure and limit are in the same unit.
struct Watched {
    std::string_view figure, limit;
    std::string_view word;
};
constexpr std::array watched{Watched{"case_soak_peak_C", "case_limit", "motor case's limit"},
                             Watched{"min_cell_V", "cell_voltage", "cells' lowest voltage"},
                             Watched{"peak_pack_A", "pack_burst", "pack's burst rating"},
                             Watched{"min_front_load_ratio", "front_load", "front axle's least load"},
                             Watched{"stop_at_m", "strip", "strip's length"}};
constexpr std::array onlyStops{Watched{"controller_peak_C", "controller_limit", "controller's limit"},
                               Watched{"pack_peak_C", "pack_limit", "pack's limit"}};

std::string teethText(const char* what, int was, int is) {
    return std::string(what) + " " + std::to_string(was) + " to " + std::to_string(is);
}

std::string changeText(const PlanInput& before, const PlanInput& now) {
    std::string out;
    const auto add = [&](const std::string& words) { out += (out.empty() ? "" : ", ") + words; };
    if (now.pack.series != before.pack.series) add(teethText("cells", before.pack.series, now.pack.series));
    if (now.gears.pinion_teeth != before.gears.pinion_teeth)
        add(teethText("pinion", before.gears.pinion_teeth, now.gears.pinion_teeth));
    if (now.gears.spur_teeth != before.gears.spur_teeth)
        add(teethText("spur", before.gears.spur_teeth, now.gears.spur_teeth));
    return out.empty() ? "the setup as it is" : out;
}

std::vector<LadderSetting> settings(const PlanInput& before, const PlanInput& now) {
    std::vector<LadderSetting> out;
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr || field.kind == FieldKind::Choice || field.name == "target_mps") continue;
        const auto was = field.get(before), is = field.get(now);
        if (is && is != was) out.push_back({field.key(), *is});
    }
    return out;
}

void watch(LadderStep& step, const Watched& what, bool goOn) {
    const auto band = std::ranges::find_if(step.expect, [&](const LadderFigure& f) { return f.figure == what.figure; });
    if (band == step.expect.end()) return;
    const LimitRow& limit = limitRow(what.limit);
    const bool floor = limit.rule == MarginRule::Floor;
    const double safe = floor ? band->p05 : band->p95;
    if (goOn) step.goOnIf.push_back({what.figure, !floor, safe, {}});
    const auto allowed = limit.allowed(step.plan);
    if (!allowed) return;
    const bool left = floor ? safe > *allowed : safe < *allowed;
    const double value = left ? safe + 0.5 * (*allowed - safe) : *allowed;
    step.stopIf.push_back({what.figure, floor, value,
                           left ? "Half of what is left to the " + std::string(what.word) + " is gone."
                                : "Nothing is left to the " + std::string(what.word) + "."});
}

// What a step says besides its plan: the change in words and keys, what to expect, when to go on, when to stop.
void describeStep(LadderStep& step, const PlanInput& before, const LadderOptions& options) {
    constexpr double onTop = 1.2;
    step.change = changeText(before, step.plan);
    step.set = settings(before, step.plan);
    const SpreadResult spread = spreadPlan(step.plan, {options.runs, 1, quiet(options.work)});
    for (const SpreadFigure& figure : spread.figures)
        if (figure.mean && std::ranges::find(expected, figure.name) != expected.end())
            step.expect.push_back({figure.name, *figure.p05, *figure.mean, *figure.p95});
    for (const Watched& what : watched)
        watch(step, what, true);
    for (const Watched& what : onlyStops)
        watch(step, what, false);
    step.targetProbability = spread.targetProbability.value_or(0.0);
    step.limitProbability = spread.anyLimitProbability;
    const PlanResult plan = simulatePlan(step.plan);
    if (plan.shortestWait_s) step.wait_s = onTop * *plan.shortestWait_s;
    step.margins = margins(step.plan, {plan.passes.front()});
}

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
        const auto judged = judgedIfAny(plan, convertedSetup(plan));
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
    const double ratio = fittedRatio(now_);
    std::vector<GearPair> pairs = fittingPairs(plan);
    const auto key = [&](const GearPair& pair) {
        return std::tuple(std::abs(pair.overallRatio - ratio), pair.pinion, pair.spur);
    };
    std::ranges::sort(pairs, [&](const GearPair& a, const GearPair& b) { return key(a) < key(b); });
    const auto judged = [&](std::size_t i, const PassPrecision& precision) {
        return judgedIfAny(plan, gearedTo(setup, pairs[i].overallRatio), precision);
    };
    std::vector<std::optional<JudgedPass>> sketches(pairs.size());
    parallelFor(pairs.size(), quiet(options_.work), [&](std::size_t i) { sketches[i] = judged(i, sketchPrecision); });
    const double target = *plan.drive.target_mps;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        if (!sketches[i]) continue;
        const double mean = sketches[i]->zoneMean.value_or(0.0);
        const bool makes = sketches[i]->makesTarget || std::abs(mean - target) < doubtOfSketches * target;
        const bool within = sketches[i]->completed && sketches[i]->tightest.margin > -doubtOfSketches;
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
    const auto judged = judgedIfAny(nearest_->plan, convertedSetup(nearest_->plan)); // the figure told is the full one
    if (nearest_->makes && judged) {
        out.limit = judged->tightest.limit;
        out.margin = judged->tightest.margin;
        return out;
    }
    out.limit = whatBinds(gearingOf(nearest_->plan), fittedRatio(nearest_->plan), options_.work);
    out.margin = (judged ? judged->zoneMean.value_or(0.0) : 0.0) / speed - 1.0;
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
