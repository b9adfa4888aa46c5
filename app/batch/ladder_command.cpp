#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/choose/ladder.h"
#include "core/plan/limits.h"
#include "core/plan/plan_figures.h"
#include "core/plan/plan_json.h"
#include "core/plan/reach_binding.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <memory>

namespace rw::batch {

namespace {

struct LadderChoices {
    std::string file;
    double proven = 0.0, target = 0.0, step = 0.15;
    std::size_t runs = 2000;
    bool json = false;
};

std::string figureText(std::string_view name, double value) {
    const PlanFigure& figure = *findPlanFigure(name);
    return fixed(value, figure.decimals) + (figure.unit().empty() ? "" : " " + std::string(figure.unit()));
}

std::string expectText(const LadderStep& step, const Ink& ink) {
    Table table{"<", "5 %", "mean", "95 %", "<go on if seen", "<stop if seen"};
    const auto condition = [](const std::vector<LadderCondition>& all, std::string_view figure, bool stops) {
        for (const LadderCondition& one : all)
            if (one.figure == figure)
                return std::string(one.atMost ? (stops ? "down to " : "at most ") : (stops ? "up to " : "at least ")) +
                       figureText(figure, one.value);
        return std::string();
    };
    for (const LadderFigure& figure : step.expect)
        table.row({std::string(findPlanFigure(figure.figure)->title), figureText(figure.figure, figure.p05),
                   figureText(figure.figure, figure.mean), figureText(figure.figure, figure.p95),
                   condition(step.goOnIf, figure.figure, false), condition(step.stopIf, figure.figure, true)});
    return table.text(ink, "    ");
}

std::string waitText(std::optional<double> wait_s, const Ink& ink) {
    if (!wait_s) return ink.bad("no wait within an hour is long enough for a second pass");
    if (*wait_s == 0.0) return "heat asks for no wait before the next pass";
    return "wait at least " + fixed(wait_s, 0) + " s before the next pass";
}

std::string stepText(const LadderStep& step, std::size_t number, const Ink& ink) {
    std::string out = ink.heading(std::to_string(number) + ". " + speedText(step.speed)) + ": " + step.change + "\n";
    for (const LadderSetting& setting : step.set) // the rest follows from the cells, and the JSON has it
        if (setting.key == "vehicle.mass_kg") out += "    the vehicle weighs " + fixed(setting.value, 2) + " kg\n";
    out += "    makes it: " + percentText(step.targetProbability) + ", breaks a limit: ";
    const std::string broken = percentText(step.limitProbability);
    out += step.risky() ? ink.bad(broken + ", more than one in ten: not advised") : broken;
    return out + "; " + waitText(step.wait_s, ink) + "\n" + expectText(step, ink) + "\n";
}

std::string blockText(const LadderBlock& block, const Ink& ink) {
    std::string out = ink.bad("The ladder ends below " + speedText(block.speed)) + ": ";
    if (block.limit == "gears") return out + "no pinion and spur at hand fit the mount.\n";
    const auto limits = limitTable();
    const bool isLimit = std::ranges::any_of(limits, [&](const LimitRow& row) { return row.name == block.limit; });
    if (isLimit)
        return out + "the nearest try breaks " + std::string(limitRow(block.limit).title) + ", " +
               marginText(block.margin, ink) + ".\n";
    return out + "the nearest try lacks " + percentText(-block.margin) + " of it; " +
           std::string(bindingText(block.limit)) + ".\n";
}

std::string ladderText(const Ladder& ladder, const LadderChoices& asked, const Ink& ink) {
    std::string out = ink.heading("From " + speedText(asked.proven) + " to " + speedText(asked.target)) + "\n\n";
    for (std::size_t i = 0; i < ladder.steps.size(); ++i)
        out += stepText(ladder.steps[i], i + 1, ink);
    if (ladder.blocked) out += blockText(*ladder.blocked, ink) + "\n";
    return out + "A figure past its stop value ends the day: look for the reason before the next step.\n\n" +
           cautionText(ink);
}

} // namespace

void addLadderCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<LadderChoices>();
    CLI::App* command =
        app.add_subcommand("ladder", "Find the steps from a proven speed to a target, each the smallest change");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    command->add_option("--proven", options->proven, "Speed that is proven, m/s")->required()->type_name("MPS");
    command->add_option("--target", options->target, "Mean speed through the zone, m/s")->required()->type_name("MPS");
    command->add_option("--step", options->step, "Largest share from one speed to the next, 0.15 unless given")
        ->type_name("SHARE");
    addRuns(*command, options->runs, "Runs of each step's spread");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("ladder");
        const Ladder ladder =
            climbLadder(input, options->proven, options->target, {options->step, options->runs, progress.work()});
        report.out = options->json ? ladderJson(ladder) : ladderText(ladder, *options, Ink());
    });
}

} // namespace rw::batch
