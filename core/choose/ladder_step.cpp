#include "core/choose/ladder_step.h"

#include "core/plan/limits.h"
#include "core/plan/plan_fields.h"
#include "core/plan/spread.h"

#include <algorithm>
#include <array>

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
    const auto band = std::find_if(step.expect.begin(), step.expect.end(),
                                   [&](const LadderFigure& f) { return f.figure == what.figure; });
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

} // namespace

void describeStep(LadderStep& step, const PlanInput& before, const LadderOptions& options) {
    constexpr double onTop = 1.2;
    step.change = changeText(before, step.plan);
    step.set = settings(before, step.plan);
    const SpreadResult spread = spreadPlan(step.plan, {options.runs, 1, {options.work.stop, {}, options.work.threads}});
    for (const SpreadFigure& figure : spread.figures)
        if (figure.mean && std::find(expected.begin(), expected.end(), figure.name) != expected.end())
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

} // namespace rw
