#include "app/batch/command.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/plan/labels.h"
#include "core/plan/limits.h"
#include "core/plan/plan_json.h"
#include "core/plan/spread.h"
#include "core/system/whole_file.h"

#include <CLI/CLI.hpp>

#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace rw::batch {

namespace {

struct EstimateOptions {
    std::string file, out;
    bool json = false, example = false;
};

// Runs behind `ask`: enough that the order of the three is not chance.
constexpr std::size_t runs = 2000;

// So many digits that matter, without an exponent where people use none.
std::string number(double value, int digits) {
    if (std::abs(value) >= std::pow(10.0, digits)) return fixed(value, 0);
    return fmt::format("{:.{}g}", value, digits);
}

std::string bandText(const Band& band) {
    return band.p05 && band.p95 ? speedText(band.p05) + " to " + speedText(band.p95) : "-";
}

std::string estimatesText(const LabelsPlan& result, const Ink& ink) {
    Table table{"<", "value", "±", "<", "<from"};
    for (const LabelsValue& value : result.values) {
        if (!(value.uncertainty > 0.0)) continue;
        const PlanField& field = *findPlanField(value.key);
        table.row({std::string(field.label), number(value.value, 4), number(value.uncertainty, 2),
                   std::string(field.unit), value.from});
    }
    return ink.heading("What is not exact") + "\n" + table.text(ink);
}

std::string askText(const SpreadResult& spread, const Ink& ink) {
    const std::vector<Worth> ask = worthAsking(spread.worth);
    if (ask.empty()) return "No measurement would narrow the zone speed's band.\n";
    std::string out = ink.heading("Measuring these would narrow it most") + "\n";
    for (const Worth& row : ask) {
        const PlanField& field = *findPlanField(row.key);
        out += "  " + std::string(field.label) + " to ± " + number(row.measurableTo, 2) +
               (field.unit.empty() ? "" : " " + std::string(field.unit)) + ": " + bandText(row.zoneMean.after) + "\n" +
               wrapped(row.method, "    ");
    }
    return out + "  all of them: " + bandText(spread.worth.bestTogether.after) + "\n";
}

std::string resultText(const LabelsPlan& result, const SpreadResult& spread) {
    const Ink ink;
    std::string out =
        ink.heading("Through the timed zone") + "\n  nine in ten: " + bandText(spread.worth.bestTogether.before) + "\n";
    if (spread.targetProbability)
        out += "  making the target of " + speedText(result.plan.drive.target_mps) + ": " +
               percentText(*spread.targetProbability) + "\n";
    for (const SpreadLimit& limit : spread.limits)
        if (limit.probabilityBroken > 0.1)
            out += "  " + ink.bad("breaking a limit") + ", " + std::string(limitRow(limit.limit).title) + ": " +
                   percentText(limit.probabilityBroken) + "\n";
    return out + "\n" + estimatesText(result, ink) + "\n" + askText(spread, ink) + "\n" + cautionText(ink);
}

constexpr const char* examples =
    "Examples:\n"
    "  runwright-batch estimate --example > labels.json       labels of an invented car, to start from\n"
    "  runwright-batch estimate labels.json                   how fast, how sure, and what to measure first\n"
    "  runwright-batch estimate labels.json --out plan.json   the whole plan, for every other command\n";

} // namespace

void addEstimateCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<EstimateOptions>();
    CLI::App* command =
        app.add_subcommand("estimate", "A whole plan, with uncertainties, from what boxes and labels say");
    command->add_option("FILE", options->file, "Labels; - is standard input")->type_name("");
    command->add_option("--out", options->out, "Write the plan")->type_name("PLAN.json");
    command->add_flag("--json", options->json, "Print JSON");
    command->add_flag("--example", options->example, "Print a complete labels document and do nothing else");
    command->footer(examples);
    command->callback([options, &report] {
        if (options->example) {
            report.out = writeLabels(exampleLabels());
            return;
        }
        if (options->file.empty()) throw CLI::RequiredError("FILE");
        const LabelsPlan result = estimatePlan(readLabelsFile(options->file), options->file);
        Progress progress("estimate");
        const SpreadResult spread = spreadPlan(result.plan, {runs, 1, progress.work()});
        if (!options->out.empty()) writeWholeFile(options->out, writePlanInput(result.plan));
        report.out = options->json ? labelsPlanJson(result, worthAsking(spread.worth)) : resultText(result, spread);
    });
}

} // namespace rw::batch
