#include "core/json/json_write.h"
#include "core/learn/learn.h"
#include "core/plan/gears.h"
#include "core/plan/spread.h"
#include "core/stopped.h"

#include <algorithm>
#include <fmt/format.h>

namespace rw {

namespace {

// A single change that the owner can make with what the plan lists.
struct Candidate {
    std::string words;
    std::vector<NextSetting> set;
    PlanInput plan;
};

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

// "Nothing" first. `passes` are the plan's own, simulated: they say what bound.
std::vector<Candidate> candidatesOf(const PlanInput& plan, const std::vector<PassResult>& passes) {
    std::vector<Candidate> out{{"nothing", {}, plan}};
    addGears(plan, out);
    addCutoff(plan, passes, out);
    addDrive(plan, passes, out);
    addCells(plan, out);
    return out;
}

constexpr double acceptable = 0.1; // chance of breaking a limit that a change may have and still stand in front

// What has to be looked after before anything is changed.
std::vector<std::string> beforehand(std::span<const LearnLog> logs) {
    std::vector<std::string> out;
    for (const LearnLog& log : logs)
        for (const Finding& finding : log.review->findings) {
            if (finding.id != "output-below-full" && finding.id != "controller-restarted") continue;
            std::string sentence = textOf(finding.seen) + " " + std::string(finding.advice);
            if (std::find(out.begin(), out.end(), sentence) == out.end()) out.push_back(std::move(sentence));
        }
    return out;
}

NextChange judged(const Candidate& candidate, const NextOptions& options) {
    NextChange out;
    out.change = candidate.words;
    out.set = candidate.set;
    PlanInput plan = candidate.plan;
    const SpreadResult spread = spreadPlan(plan, {options.runs, options.seed, quiet(options.work)});
    for (const SpreadFigure& figure : spread.figures)
        if (figure.name == "zone_mean_mps" && figure.mean)
            out.zoneMean = NextChange::Band{*figure.p05, *figure.mean, *figure.p95};
    out.targetProbability = spread.targetProbability;
    out.limitProbability = spread.anyLimitProbability;
    const std::vector<Margin> left = margins(plan, simulatePasses(plan, convertedSetup(plan)));
    if (!left.empty()) {
        out.tightestLimit = left.front().limit;
        out.tightestMargin = left.front().margin;
    }
    return out;
}

Json settingsJson(const std::vector<NextSetting>& set) {
    Json out = Json::object();
    for (const NextSetting& setting : set)
        out[setting.key] = setting.number ? Json(*setting.number) : Json(setting.choice);
    return out;
}

} // namespace

NextReport nextChanges(const PlanInput& plan, std::span<const LearnLog> logs, const NextOptions& options) {
    NextReport out;
    out.first = beforehand(logs);
    PlanInput base = plan;
    if (options.target) base.drive.target_mps = options.target;
    const auto candidates = candidatesOf(base, simulatePasses(base, passSetup(base)));
    for (const Candidate& candidate : candidates) {
        out.changes.push_back(judged(candidate, options));
        if (options.work.progress)
            options.work.progress(static_cast<double>(out.changes.size()) / static_cast<double>(candidates.size()));
        throwIfStopped(options.work.stop);
    }
    const double now = out.changes.front().zoneMean ? out.changes.front().zoneMean->mean : 0.0;
    for (NextChange& change : out.changes)
        if (change.zoneMean) change.gain = change.zoneMean->mean - now;
    std::stable_sort(out.changes.begin(), out.changes.end(), [](const NextChange& a, const NextChange& b) {
        const bool first = a.limitProbability <= acceptable, second = b.limitProbability <= acceptable;
        if (first != second) return first;
        if (a.targetProbability != b.targetProbability) return a.targetProbability > b.targetProbability;
        return a.gain > b.gain;
    });
    return out;
}

std::string nextJson(const NextReport& report) {
    Json out;
    out["first"] = report.first;
    out["changes"] = listJson(report.changes, [](const NextChange& c) {
        Json row{{"change", c.change}, {"set", settingsJson(c.set)}, {"zone_mean", nullptr}};
        if (c.zoneMean)
            row["zone_mean"] = {{"low", c.zoneMean->low}, {"mean", c.zoneMean->mean}, {"high", c.zoneMean->high}};
        row["gain_mps"] = c.gain;
        row["target_probability"] = jsonOrNull(c.targetProbability);
        row["limit_probability"] = c.limitProbability;
        row["tightest"] = nullptr;
        if (!c.tightestLimit.empty()) row["tightest"] = {{"limit", c.tightestLimit}, {"margin", c.tightestMargin}};
        return row;
    });
    return out.dump(2) + "\n";
}

} // namespace rw
