#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/plan/limits.h"
#include "core/plan/plan_figures.h"
#include "core/plan/plan_json.h"
#include "core/plan/spread.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace rw::batch {

namespace {

struct SpreadChoices {
    std::string file;
    std::size_t runs = 2000;
    std::string seed = "1";
    bool json = false;
};

std::string figuresText(const SpreadResult& result, const Ink& ink) {
    Table table{"<", "5 %", "50 %", "95 %", "mean", "sd", "<"};
    for (const SpreadFigure& figure : result.figures) {
        if (!figure.mean) continue;
        const PlanFigure& known = *findPlanFigure(figure.name);
        const int d = known.decimals;
        table.row({std::string(known.title), fixed(figure.p05, d), fixed(figure.p50, d), fixed(figure.p95, d),
                   fixed(figure.mean, d), fixed(figure.sd, d + 1), std::string(known.unit())});
    }
    return ink.heading("Figures of the first pass: nine runs in ten lie between 5 and 95 %") + "\n" + table.text(ink);
}

std::string chancesText(const PlanInput& input, const SpreadResult& result, const Ink& ink) {
    std::string out = ink.heading("Chances") + " from " + std::to_string(result.runs) + " runs, seed " +
                      std::to_string(result.seed) + "\n";
    if (result.targetProbability)
        out += "  making the target of " + speedText(input.drive.target_mps) + ": " +
               ink.heading(percentText(*result.targetProbability)) + "\n";
    if (result.completedProbability < 1.0)
        out += "  completing the pass: " + ink.bad(percentText(result.completedProbability)) + "\n";
    Table table{"<breaking a limit", ""};
    for (const SpreadLimit& limit : result.limits)
        if (limit.probabilityBroken > 0.0)
            table.row({std::string(limitRow(limit.limit).title), percentText(limit.probabilityBroken)});
    if (table.empty()) return out + "  no limit was broken in any run\n";
    return out + table.text(ink);
}

std::string driversText(const SpreadResult& result, const Ink& ink) {
    if (result.drivers.empty()) return "The plan states no uncertainties: every run is the same.\n";
    Table table{"<", ""};
    for (const SpreadDriver& driver : result.drivers)
        table.row({driver.key, driver.share ? percentText(*driver.share) : "-"});
    std::string out =
        ink.heading("What matters most: share of the variance of the zone speed") + "\n" + table.text(ink);
    for (const std::string& note : result.notes)
        out += note + "\n";
    return out;
}

// The argument parser would take -1 for a very large seed.
std::uint64_t seedOf(const std::string& words) {
    if (const auto seed = numberIn<std::uint64_t>(words)) return *seed;
    throw CLI::ValidationError("--seed", "expected a whole number from 0 to 18446744073709551615, found " +
                                             escapeControls(words));
}

bool anyBroken(const SpreadResult& result) {
    return !result.limits.empty() && result.limits.front().probabilityBroken > 0.0;
}

} // namespace

void addSpreadCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<SpreadChoices>();
    CLI::App* command = app.add_subcommand("spread", "Chances and 90 % intervals from the stated uncertainties");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    addRuns(*command, options->runs, "Number of runs, 1 to 1000000");
    command->add_option("--seed", options->seed, "Same seed, same answer")->type_name("S");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        const std::uint64_t seed = seedOf(options->seed);
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("spread");
        const SpreadResult result = spreadPlan(input, {options->runs, seed, progress.work()});
        const Ink ink;
        report.out = options->json ? spreadJson(result)
                                   : chancesText(input, result, ink) + "\n" + figuresText(result, ink) + "\n" +
                                         driversText(result, ink) + (anyBroken(result) ? "\n" + cautionText(ink) : "");
    });
}

} // namespace rw::batch
