#include "app/batch/command.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/plan/plan.h"
#include "core/plan/plan_json.h"
#include "core/shortest_text.h"
#include "core/system/whole_file.h"
#include "core/units.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <memory>
#include <string>

namespace rw::batch {

namespace {

constexpr std::string_view header =
    "time_s,distance_m,speed_mps,throttle,duty,pack_V,pack_A,motor_A,motor_rpm,wheel_radps,"
    "winding_C,case_C,controller_C,pack_C,front_load_N,rear_load_N,limit\n";

void append(std::string& out, double value) {
    if (std::isfinite(value)) out += shortestText(value);
    out += ',';
}

// The time history as app/batch/README.md has it, 100 rows a second, events included; at a jump two rows with one time.
std::string traceCsv(const PlanInput& input) {
    std::string out(header);
    const InstantSink sink = [&out](const Instant& i) {
        for (const double value : {i.time, i.distance, i.speed, i.throttle, i.duty, i.packVoltage, i.packCurrent,
                                   i.motorCurrent, i.motorSpeed * rpmPerRadps, i.wheelSpeed, i.winding, i.motorCase,
                                   i.controller, i.pack, i.frontLoad, i.rearLoad})
            append(out, value);
        out += limitName(i.limit);
        out += '\n';
    };
    static_cast<void>(simulatePass(passSetup(input), startState(input), {}, sink));
    return out;
}

struct PlanOptions {
    std::vector<std::string> files;
    std::string trace;
    bool json = false, example = false;
};

std::string manyAsJson(const std::vector<std::string>& files, const std::vector<std::string>& results) {
    nlohmann::ordered_json out;
    out["plans"] = nlohmann::ordered_json::array();
    for (std::size_t i = 0; i < files.size(); ++i) {
        nlohmann::ordered_json item;
        item["file"] = files[i];
        item.update(nlohmann::ordered_json::parse(results[i]));
        out["plans"].push_back(std::move(item));
    }
    return printed(out);
}

std::string manyAsText(const std::vector<std::string>& files, const std::vector<std::string>& results, const Ink& ink) {
    std::string out;
    for (std::size_t i = 0; i < files.size(); ++i)
        out += (i == 0 ? "" : "\n\n") + ink.heading(escapeControls(files[i])) + "\n" + results[i];
    return out;
}

std::string runPlans(const PlanOptions& options) {
    const Ink ink;
    std::vector<std::string> results;
    std::string trace;
    for (const std::string& file : options.files) {
        const PlanInput input = readPlanInputFile(file);
        const PlanResult result = simulatePlan(input);
        results.push_back(options.json ? planResultJson(input, result) : planText(input, result, ink));
        if (!options.trace.empty()) trace = traceCsv(input);
    }
    if (!options.trace.empty()) writeWholeFile(options.trace, trace);
    if (!options.json) return manyAsText(options.files, results, ink);
    return results.size() == 1 ? results.front() : manyAsJson(options.files, results);
}

constexpr const char* examples =
    "Examples:\n"
    "  runwright-batch plan --example > car.json      a complete plan input of an invented car, to start from\n"
    "  runwright-batch plan car.json                  what it will do, and whether it will hold\n"
    "  runwright-batch plan car.json --trace run.csv  the time history of the first pass besides\n\n"
    "The input is one JSON document; its shortest form begins\n"
    "  {\"runwright\": \"plan\", \"version\": 1,\n"
    "   \"venue\": {\"length_m\": 260, \"run_up_m\": 110, \"timed_m\": 20, \"friction\": 0.95},\n"
    "   \"vehicle\": {\"mass_kg\": 2.35, …}, \"tyre\": {…}, \"gears\": {…}, \"motor\": {…}, \"controller\": {…}, "
    "\"pack\": {…}}\n";

} // namespace

void addPlanCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<PlanOptions>();
    CLI::App* command =
        app.add_subcommand("plan", "Simulate a pass: speeds, currents, temperatures, margins, what bound it");
    command->add_option("FILE", options->files, "Plan inputs; - is standard input")->type_name("");
    command->add_flag("--json", options->json, "Print JSON; several files come as {\"plans\": […]}");
    command->add_option("--trace", options->trace, "Write the time history of the first pass (one FILE only)")
        ->type_name("OUT.csv");
    command->add_flag("--example", options->example, "Print a complete valid plan input and do nothing else");
    command->footer(examples);
    command->callback([options, &report] {
        if (options->example) {
            report.out = writePlanInput(examplePlan());
            return;
        }
        if (options->files.empty()) throw CLI::RequiredError("FILE");
        if (!options->trace.empty() && options->files.size() > 1)
            throw CLI::ValidationError("--trace", "takes one FILE only");
        report.out = runPlans(*options);
    });
}

} // namespace rw::batch
