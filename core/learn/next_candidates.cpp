#include "core/learn/next_candidates.h"

#include "core/plan/plan_convert.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace rw::learning {

namespace {

void addGears(const PlanInput& plan, std::vector<Candidate>& out) {
    for (const GearPair& pair : fittingPairs(plan)) {
        const bool pinion = pair.pinion != plan.gears.pinion_teeth, spur = pair.spur != plan.gears.spur_teeth;
        if (!pinion && !spur) continue;
        Candidate c;
        c.plan = plan;
        c.plan.gears.pinion_teeth = pair.pinion;
        c.plan.gears.spur_teeth = pair.spur;
        if (pinion) {
            c.words =
                "pinion " + std::to_string(pair.pinion) + " instead of " + std::to_string(plan.gears.pinion_teeth);
            c.set.push_back({"gears.pinion_teeth", pair.pinion, ""});
        }
        if (spur) {
            c.words += (pinion ? ", spur " : "spur ") + std::to_string(pair.spur) + " instead of " +
                       std::to_string(plan.gears.spur_teeth);
            c.set.push_back({"gears.spur_teeth", pair.spur, ""});
        }
        out.push_back(std::move(c));
    }
}

void addCutoff(const PlanInput& plan, const std::vector<PassResult>& passes, std::vector<Candidate>& out) {
    const bool acted =
        std::any_of(passes.begin(), passes.end(), [](const PassResult& p) { return p.bound.cutoff > 0.0; });
    if (plan.controller.cutoff.mode == CutoffMode::Off || !acted) return;
    Candidate off{"cutoff off", {{"controller.cutoff.mode", std::nullopt, "off"}}, plan};
    off.plan.controller.cutoff.mode = CutoffMode::Off;
    out.push_back(std::move(off));
    constexpr double lower = 0.1; // V per cell
    const double cell = *plan.controller.cutoff.cell_V - lower;
    Candidate less{
        "cutoff " + fmt::format("{:.2f}", cell) + " V a cell", {{"controller.cutoff.cell_V", cell, ""}}, plan};
    less.plan.controller.cutoff.cell_V = cell;
    out.push_back(std::move(less));
}

void addDrive(const PlanInput& plan, const std::vector<PassResult>& passes, std::vector<Candidate>& out) {
    const bool heats = std::adjacent_find(passes.begin(), passes.end(), [](const PassResult& a, const PassResult& b) {
                           return b.caseSoakPeak > a.caseSoakPeak + 1.0 || b.windingPeak > a.windingPeak + 1.0;
                       }) != passes.end();
    if (heats) {
        const double wait = 1.5 * plan.drive.turn_around_s;
        Candidate c{
            "wait " + fmt::format("{:.0f}", wait) + " s between passes", {{"drive.turn_around_s", wait, ""}}, plan};
        c.plan.drive.turn_around_s = wait;
        out.push_back(std::move(c));
    }
    const bool traction =
        std::any_of(passes.begin(), passes.end(), [](const PassResult& p) { return p.bound.traction > 0.0; });
    const double ramp = plan.drive.throttle_ramp_s;
    if (ramp > 0.0) {
        const double other = traction ? 1.5 * ramp : 0.5 * ramp;
        Candidate c{"throttle ramp " + fmt::format("{:.2f}", other) + " s instead of " + fmt::format("{:.2f}", ramp) +
                        " s",
                    {{"drive.throttle_ramp_s", other, ""}},
                    plan};
        c.plan.drive.throttle_ramp_s = other;
        out.push_back(std::move(c));
    }
    if (plan.controller.endpoint < 1.0) {
        Candidate c{"endpoint 100 %", {{"controller.endpoint", 1.0, ""}}, plan};
        c.plan.controller.endpoint = 1.0;
        out.push_back(std::move(c));
    }
}

void addCells(const PlanInput& plan, std::vector<Candidate>& out) {
    for (const int change : {1, -1}) {
        const int cells = plan.pack.series + change;
        if (cells < 1 || cells > 24) continue;
        Candidate c{std::to_string(cells) + " cells instead of " + std::to_string(plan.pack.series),
                    {{"pack.series", cells, ""}},
                    plan};
        c.plan.pack.series = cells;
        c.plan.pack.capacity_JpK *=
            static_cast<double>(cells) / plan.pack.series; // the same cells weigh what they weigh
        out.push_back(std::move(c));
    }
}

} // namespace

std::vector<Candidate> candidatesOf(const PlanInput& plan, const std::vector<PassResult>& passes) {
    std::vector<Candidate> out{{"nothing", {}, plan}};
    addGears(plan, out);
    addCutoff(plan, passes, out);
    addDrive(plan, passes, out);
    addCells(plan, out);
    return out;
}

} // namespace rw::learning
