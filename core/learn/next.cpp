#include "core/learn/learn.h"
#include "core/learn/next_candidates.h"
#include "core/plan/pass_json.h"
#include "core/plan/plan_convert.h"
#include "core/plan/spread.h"
#include "core/stopped.h"

#include <algorithm>

namespace rw {

using Json = nlohmann::ordered_json;

namespace {

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

NextChange judged(const learning::Candidate& candidate, const NextOptions& options) {
    NextChange out;
    out.change = candidate.words;
    out.set = candidate.set;
    PlanInput plan = candidate.plan;
    const SpreadResult spread =
        spreadPlan(plan, {options.runs, options.seed, {options.work.stop, {}, options.work.threads}});
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
    const auto candidates = learning::candidatesOf(base, simulatePasses(base, passSetup(base)));
    for (const learning::Candidate& candidate : candidates) {
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
    out["changes"] = Json::array();
    for (const NextChange& c : report.changes) {
        Json row;
        row["change"] = c.change;
        row["set"] = settingsJson(c.set);
        row["zone_mean"] = nullptr;
        if (c.zoneMean)
            row["zone_mean"] = {{"low", c.zoneMean->low}, {"mean", c.zoneMean->mean}, {"high", c.zoneMean->high}};
        row["gain_mps"] = c.gain;
        row["target_probability"] = jsonOrNull(c.targetProbability);
        row["limit_probability"] = c.limitProbability;
        row["tightest"] = nullptr;
        if (!c.tightestLimit.empty()) row["tightest"] = {{"limit", c.tightestLimit}, {"margin", c.tightestMargin}};
        out["changes"].push_back(std::move(row));
    }
    return out.dump(2) + "\n";
}

} // namespace rw
