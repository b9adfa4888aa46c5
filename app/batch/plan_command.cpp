#include "app/batch/plan_command.h"

#include "app/batch/command.h"
#include "core/plan/plan_json.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace rw::batch {

namespace {

struct PlanOptions {
    std::vector<std::string> files;
};

} // namespace

void addPlanCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<PlanOptions>();
    CLI::App* command = app.add_subcommand("plan", "Simulate a pass: speeds, currents, temperatures, margins, what bound it");
    command->add_option("FILE", options->files, "Plan input; - is standard input")->required();
    command->callback([options, &report] {
        for (const std::string& file : options->files) report.out += writePlanInput(readPlanInputFile(file));
    });
}

} // namespace rw::batch
