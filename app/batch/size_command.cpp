#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/choose/size.h"
#include "core/plan/limits.h"
#include "core/plan/plan_json.h"
#include "core/plan/reach_binding.h"

#include <CLI/CLI.hpp>

#include <cmath>
#include <memory>

namespace rw::batch {

namespace {

struct SizeChoices {
    std::string file, cells, kv;
    double target = 0.0;
    std::size_t runs = 2000;
    bool json = false;
};

std::string bestText(const SizeBest& best, double target, const Ink& ink) {
    std::string out = ink.heading("Most left of the tightest limit: ") + std::to_string(best.cells) + " cells, " +
                      fixed(best.kv, 0) + " rpm/V, overall ratio " + fixed(best.overallRatio, 3) +
                      "\n  tightest: " + std::string(limitRow(best.tightest.limit).title) + ", " +
                      marginText(best.tightest.margin, ink) + "\n";
    if (best.targetProbability)
        out += "  chance of " + speedText(target) + ": " + percentText(*best.targetProbability) + "\n";
    return out;
}

std::string nearestText(const SizeMap& size, double target, const Ink& ink) {
    std::string out = ink.bad("No point makes " + speedText(target)) + ".\n";
    if (!size.nearest) return out + "  No pass is completed anywhere on the map.\n";
    const SizeNearest& n = *size.nearest;
    return out + "  Nearest: " + std::to_string(n.cells) + " cells, " + fixed(n.kv, 0) + " rpm/V, overall ratio " +
           fixed(n.overallRatio, 3) + ", " + speedText(n.zoneMean) + "; " + std::string(bindingText(n.binding)) + ".\n";
}

// The best speed constant for each number of cells.
std::string mapText(const SizeMap& size, const Ink& ink) {
    Table table{"cells", "rpm/V", "ratio", "pack A", "case °C", "<tightest", "<", "makes it at rpm/V"};
    for (std::size_t row = 0; row < size.cells.size(); ++row) {
        const auto& line = size.map[row];
        std::optional<std::size_t> best, first, last;
        for (std::size_t i = 0; i < line.size(); ++i) {
            if (!line[i]) continue;
            if (!first) first = i;
            last = i;
            if (!best || line[i]->margin > line[*best]->margin) best = i;
        }
        if (!best) {
            table.row({std::to_string(size.cells[row]), "-"});
            continue;
        }
        const SizeCell& cell = *line[*best];
        table.row({std::to_string(size.cells[row]), fixed(size.kv[*best], 0), fixed(cell.overallRatio, 3),
                   fixed(cell.peakPackCurrent, 1), fixed(cell.caseSoakPeak, 1), std::string(limitRow(cell.limit).title),
                   marginText(cell.margin, ink), fixed(size.kv[*first], 0) + " to " + fixed(size.kv[*last], 0)});
    }
    return ink.heading("For each number of cells the winding with most left") + "\n" + table.text(ink);
}

std::string sizeText(const SizeMap& size, double target, const Ink& ink) {
    const std::string head = size.best ? bestText(*size.best, target, ink) : nearestText(size, target, ink);
    const bool broken = size.best && size.best->tightest.margin < 0.0;
    return head + "\n" + mapText(size, ink) + (broken ? "\n" + cautionText(ink) : "");
}

} // namespace

void addSizeCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<SizeChoices>();
    CLI::App* command = app.add_subcommand("size", "Find the winding and the cells to buy for a target, gearing free");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    command->add_option("--target", options->target, "Mean speed through the zone, m/s")->required()->type_name("MPS");
    command->add_option("--cells", options->cells, "Cells in series, 2-12 unless given")->type_name("A-B");
    command->add_option("--kv", options->kv, "rpm/V, a third to three times the plan's unless given")
        ->type_name("LOW-HIGH");
    addRuns(*command, options->runs, "Runs of the spread at the best point");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        SizeOptions asked;
        if (!options->cells.empty()) {
            const auto [low, high] = rangeOf(options->cells, "--cells");
            if (low != std::floor(low) || high != std::floor(high) || low < 1.0 || high > 24.0 || low > high)
                throw CLI::ValidationError("--cells", "expected two whole numbers from 1 to 24 as A-B, found " +
                                                          escapeControls(options->cells));
            asked.fewestCells = static_cast<int>(low), asked.mostCells = static_cast<int>(high);
        }
        if (!options->kv.empty()) asked.kv = rangeOf(options->kv, "--kv");
        if (!std::isfinite(options->target) || options->target <= 0.0)
            throw CLI::ValidationError("--target", "expected a speed over 0 m/s");
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("size");
        asked.runs = options->runs;
        asked.work = progress.work();
        const SizeMap size = sizePower(input, options->target, asked);
        report.out = options->json ? sizeJson(size) : sizeText(size, options->target, Ink());
    });
}

} // namespace rw::batch
