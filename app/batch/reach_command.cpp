#include "app/batch/command.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/plan/plan_json.h"
#include "core/plan/reach.h"
#include "core/plan/reach_binding.h"

#include <CLI/CLI.hpp>

#include <cmath>
#include <memory>

namespace rw::batch {

namespace {

struct ReachOptions {
    std::string file;
    double target = 0.0;
    bool json = false;
};

std::string verdict(const Reach& reach, const std::string& how, const Ink& ink) {
    const std::string best = "best " + speedText(reach.zoneMean);
    if (reach.reachable) return ink.good("reachable") + ": " + how + "; " + best;
    return ink.bad("not reachable") + ": " + std::string(bindingText(reach.binding)) + "; " + best;
}

std::string gearingText(const PlanInput& input, const GearingReach& gearing, double target, const Ink& ink) {
    const std::string how =
        gearing.ratios ? "overall ratio " + fixed(gearing.ratios->first, 3) + " to " + fixed(gearing.ratios->second, 3)
                       : "";
    std::string out = "  Gearing    " + verdict(gearing, how, ink) + "\n";
    if (!gearing.nearestPair) return out + "             no pair of your gears fits the mount\n";
    const ReachPair& pair = *gearing.nearestPair;
    const bool makes = pair.zoneMean && *pair.zoneMean >= target;
    const bool fitted = pair.pinion == input.gears.pinion_teeth && pair.spur == input.gears.spur_teeth;
    return out + "             " + (makes ? "of your gears: " : "nearest of your gears: ") +
           std::to_string(pair.pinion) + "/" + std::to_string(pair.spur) + (fitted ? " (fitted now)" : "") +
           ", ratio " + fixed(pair.overallRatio, 3) + ", " + speedText(pair.zoneMean) + "\n";
}

// "7 to 12, 14"
std::string countsText(const std::vector<int>& counts) {
    std::string out;
    for (std::size_t first = 0, last = 0; first < counts.size(); first = ++last) {
        while (last + 1 < counts.size() && counts[last + 1] == counts[last] + 1)
            ++last;
        out += (out.empty() ? "" : ", ") + std::to_string(counts[first]);
        if (last > first) out += (last == first + 1 ? ", " : " to ") + std::to_string(counts[last]);
    }
    return out;
}

std::string cellsText(const CellsReach& cells, const Ink& ink) {
    return "  Cells      " + verdict(cells, countsText(cells.counts) + " in series", ink) + "\n";
}

std::string reachText(const PlanInput& input, const ReachResult& result, double target, const Ink& ink) {
    const DragReach& drag = result.dragArea;
    return ink.heading("What makes " + speedText(target) + ", each changed alone") + "\n" +
           gearingText(input, result.gearing, target, ink) + cellsText(result.cells, ink) + "  Drag area  " +
           verdict(drag, drag.largest ? "up to " + fixed(drag.largest, 5) + " m²" : "", ink) + "; now " +
           fixed(input.vehicle.drag_area_m2, 5) + " m²\n\n" +
           "  Limits of motor, pack and tyres are not judged here: put a change into the plan and look at its "
           "margins.\n";
}

} // namespace

void addReachCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<ReachOptions>();
    CLI::App* command = app.add_subcommand(
        "reach", "Find the gearing, cells or drag area that make a target, or what stands in the way");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    command->add_option("--target", options->target, "Mean speed through the zone, m/s")->required()->type_name("MPS");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        if (!std::isfinite(options->target) || options->target <= 0.0)
            throw CLI::ValidationError("--target", "expected a speed over 0 m/s");
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("reach");
        const ReachResult result = reachTarget(input, options->target, progress.work());
        report.out = options->json ? reachJson(result) : reachText(input, result, options->target, Ink());
    });
}

} // namespace rw::batch
