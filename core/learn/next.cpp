#include "core/json/json_write.h"
#include "core/learn/learn.h"
#include "core/plan/gears.h"
#include "core/plan/plan_fields.h"
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

void setKey(Candidate& c, const char* key, double value) {
    c.set.push_back({key, value, ""});
    findPlanField(key)->set(c.plan, value);
}

Candidate changed(const PlanInput& plan, const std::string& words, const char* key, double value) {
    Candidate out{words, {}, plan};
    setKey(out, key, value);
    return out;
}

void addGears(const PlanInput& plan, std::vector<Candidate>& out) {
    for (const GearPair& pair : fittingPairs(plan)) {
        Candidate c{"", {}, plan};
        const auto fit = [&c](const char* name, const char* key, int teeth, int now) {
            if (teeth == now) return;
            c.words += fmt::format("{}{} {} instead of {}", c.words.empty() ? "" : ", ", name, teeth, now);
            setKey(c, key, teeth);
        };
        fit("pinion", "gears.pinion_teeth", pair.pinion, plan.gears.pinion_teeth);
        fit("spur", "gears.spur_teeth", pair.spur, plan.gears.spur_teeth);
        if (!c.set.empty()) out.push_back(std::move(c));
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
    out.push_back(changed(plan, fmt::format("cutoff {:.2f} V a cell", cell), "controller.cutoff.cell_V", cell));
}

void addDrive(const PlanInput& plan, const std::vector<PassResult>& passes, std::vector<Candidate>& out) {
    const bool heats = std::adjacent_find(passes.begin(), passes.end(), [](const PassResult& a, const PassResult& b) {
                           return b.caseSoakPeak > a.caseSoakPeak + 1.0 || b.windingPeak > a.windingPeak + 1.0;
                       }) != passes.end();
    const double wait = 1.5 * plan.drive.turn_around_s;
    if (heats)
        out.push_back(changed(plan, fmt::format("wait {:.0f} s between passes", wait), "drive.turn_around_s", wait));
    const bool traction =
        std::any_of(passes.begin(), passes.end(), [](const PassResult& p) { return p.bound.traction > 0.0; });
    const double ramp = plan.drive.throttle_ramp_s, other = (traction ? 1.5 : 0.5) * ramp;
    if (ramp > 0.0)
        out.push_back(changed(plan, fmt::format("throttle ramp {:.2f} s instead of {:.2f} s", other, ramp),
                              "drive.throttle_ramp_s", other));
    if (plan.controller.endpoint < 1.0) out.push_back(changed(plan, "endpoint 100 %", "controller.endpoint", 1.0));
}

void addCells(const PlanInput& plan, std::vector<Candidate>& out) {
    for (const int more : {1, -1}) {
        const int cells = plan.pack.series + more;
        if (cells < 1 || cells > 24) continue;
        out.push_back(
            changed(plan, fmt::format("{} cells instead of {}", cells, plan.pack.series), "pack.series", cells));
        out.back().plan.pack.capacity_JpK *=
            static_cast<double>(cells) / plan.pack.series; // the same cells weigh what they weigh
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
