#include "core/plan/spread.h"

#include "core/error.h"
#include "core/json/json_write.h"
#include "core/plan/limits.h"
#include "core/plan/plan_figures.h"
#include "core/plan/uncertain.h"

#include <algorithm>
#include <limits>

namespace rw {

namespace {

constexpr std::size_t mostRuns = 1'000'000;
constexpr double missing = std::numeric_limits<double>::quiet_NaN();

// Everything kept of the runs, a row a run.
struct Runs {
    std::vector<std::vector<double>> drawn;   // one column an uncertain field: first shares, then the values used
    std::vector<std::vector<double>> figures; // one column a figure
    std::vector<std::vector<double>> margins; // one column a limit of limitTable()
    std::string_view tightest;                // limit of the plan as it stands; empty where there is none
    std::vector<double> tightestValue;
    std::vector<std::uint8_t> completed, target;
};

void keepMargins(const std::vector<Margin>& margins, Runs& runs, std::size_t run) {
    for (const Margin& margin : margins) {
        const auto limit = static_cast<std::size_t>(&limitRow(margin.limit) - limitTable().data());
        runs.margins[limit][run] = margin.margin;
        if (margin.limit == runs.tightest) runs.tightestValue[run] = margin.value;
    }
}

void simulateRun(const PlanInput& base, const std::vector<UncertainField>& fields, Runs& runs, std::size_t run) {
    PlanInput input = base;
    for (std::size_t k = 0; k < fields.size(); ++k) {
        double& drawn = runs.drawn[k][run];
        drawn = fields[k].value(drawn);
        fields[k].field->set(input, drawn);
    }
    reconcile(input);
    std::vector<PassResult> passes;
    try {
        passes = simulatePasses(input, convertedSetup(input), fields.empty() ? fullPrecision : sketchPrecision);
    } catch (const InputError&) {
        return; // drawn so far out that no pass can be computed: not completed, no figures
    }
    const auto figures = planFigures();
    for (std::size_t f = 0; f < figures.size(); ++f)
        runs.figures[f][run] = figures[f].get(input, passes.front()).value_or(missing);
    keepMargins(margins(input, passes), runs, run);
    runs.completed[run] = passes.front().completed ? 1 : 0;
    runs.target[run] = makesTarget(passes.front(), input.drive.target_mps) ? 1 : 0;
}

Runs prepared(std::size_t count, std::vector<std::vector<double>> shares) {
    Runs runs;
    runs.drawn = std::move(shares);
    runs.figures.assign(planFigures().size(), std::vector<double>(count, missing));
    runs.margins.assign(limitTable().size(), std::vector<double>(count, missing));
    runs.tightestValue.assign(count, missing);
    runs.completed.assign(count, 0);
    runs.target.assign(count, 0);
    return runs;
}

double shareOf(const std::vector<std::uint8_t>& flags) {
    return static_cast<double>(std::ranges::count(flags, 1)) / static_cast<double>(flags.size());
}

std::vector<SpreadLimit> limitsOf(const Runs& runs) {
    std::vector<SpreadLimit> out;
    const auto limits = limitTable();
    for (std::size_t i = 0; i < limits.size(); ++i) {
        const std::vector<double>& margin = runs.margins[i];
        const Summary s = summarise(margin);
        if (s.count == 0) continue;
        const auto broken = std::ranges::count_if(margin, [](double m) { return m < 0.0; });
        out.push_back(
            {limits[i].name, static_cast<double>(broken) / static_cast<double>(margin.size()), {s.p05, s.p95}});
    }
    std::ranges::stable_sort(out,
                             [](const auto& a, const auto& b) { return a.probabilityBroken > b.probabilityBroken; });
    return out;
}

double anyBroken(const Runs& runs) {
    std::size_t count = 0;
    for (std::size_t run = 0; run < runs.completed.size(); ++run)
        if (std::ranges::any_of(runs.margins, [run](const std::vector<double>& margin) { return margin[run] < 0.0; }))
            ++count;
    return static_cast<double>(count) / static_cast<double>(runs.completed.size());
}

std::size_t zoneMeanIndex() { return static_cast<std::size_t>(findPlanFigure("zone_mean_mps") - planFigures().data()); }

// Of the plan as it stands; none where no pass can be computed.
std::string_view tightestLimit(const PlanInput& input) {
    try {
        const std::vector<Margin> list = margins(input, simulatePasses(input, convertedSetup(input)));
        return list.empty() ? std::string_view() : list.front().limit;
    } catch (const InputError&) {
        return {};
    }
}

std::vector<SpreadDriver> driversOf(const std::vector<UncertainField>& fields, const Runs& runs, bool correlated) {
    const std::vector<double>& zoneMean = runs.figures[zoneMeanIndex()];
    const std::vector<std::optional<double>> shares =
        correlated ? firstOrderShares(runs.drawn, zoneMean) : varianceShares(runs.drawn, zoneMean);
    std::vector<SpreadDriver> out;
    for (std::size_t k = 0; k < fields.size(); ++k)
        out.push_back({fields[k].field->key(), shares[k]});
    std::ranges::stable_sort(out, [](const auto& a, const auto& b) { return a.share > b.share; });
    return out;
}

} // namespace

SpreadResult spreadPlan(const PlanInput& input, const SpreadOptions& options) {
    checkPlanInput(input, "plan input");
    if (options.runs < 1 || options.runs > mostRuns)
        throw InputError("runs", "expected 1 to " + std::to_string(mostRuns));
    const std::vector<UncertainField> fields = uncertainFields(input);
    PlanInput base = input;
    base.uncertainty.clear(); // not needed in the runs, and costly to copy
    base.correlation.clear();
    base.learned.reset();
    Runs runs = prepared(options.runs, drawShares(input, fields, options.runs, options.seed));
    runs.tightest = tightestLimit(base);
    SpreadResult out;
    out.runs = options.runs;
    out.seed = options.seed;
    parallelFor(options.runs, options.work, [&](std::size_t run) { simulateRun(base, fields, runs, run); });
    if (input.drive.target_mps) out.targetProbability = shareOf(runs.target);
    out.completedProbability = shareOf(runs.completed);
    out.anyLimitProbability = anyBroken(runs);
    out.limits = limitsOf(runs);
    out.drivers = driversOf(fields, runs, !input.correlation.empty());
    out.worth = worthOf({input, fields, runs.drawn, runs.figures[zoneMeanIndex()], runs.tightest, runs.tightestValue});
    if (!input.correlation.empty())
        out.notes.push_back(
            "The inputs are correlated: the shares of the drivers are those of each input together with "
            "what goes with it, and need not add to 1.");
    const auto figures = planFigures();
    for (std::size_t f = 0; f < figures.size(); ++f)
        out.figures.push_back({summarise(std::move(runs.figures[f])), figures[f].key});
    return out;
}

std::string spreadJson(const SpreadResult& result) {
    Json out;
    out["runs"] = result.runs;
    out["seed"] = result.seed;
    out["target_probability"] = jsonOrNull(result.targetProbability);
    out["completed_probability"] = result.completedProbability;
    out["limits"] = listJson(result.limits, [](const SpreadLimit& limit) {
        return Json{{"limit", limit.limit}, {"probability_broken", limit.probabilityBroken}};
    });
    out["figures"] = Json::object();
    for (const SpreadFigure& figure : result.figures)
        out["figures"][std::string(figure.name)] = {{"mean", jsonOrNull(figure.mean)}, {"sd", jsonOrNull(figure.sd)},
                                                    {"p05", jsonOrNull(figure.p05)},   {"p50", jsonOrNull(figure.p50)},
                                                    {"p95", jsonOrNull(figure.p95)},   {"runs", figure.count}};
    out["drivers"] = listJson(result.drivers, [](const SpreadDriver& driver) {
        return Json{{"key", driver.key}, {"share_of_variance", jsonOrNull(driver.share)}};
    });
    out["worth"] = listJson(result.worth.inputs, worthJson);
    if (!result.notes.empty()) out["notes"] = result.notes;
    return out.dump(2) + "\n";
}

} // namespace rw
