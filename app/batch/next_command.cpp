#include "app/batch/command.h"
#include "app/batch/learn_request.h"
#include "app/batch/learn_text.h"
#include "app/batch/progress.h"
#include "app/batch/text_output.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace rw::batch {

namespace {

struct Asked {
    LearnWords words;
    std::optional<double> target;
    bool json = false;
};

void run(const Asked& asked, Report& report) {
    LearnRequest request = readRequest(asked.words);
    request.options.foretell = false;
    const LearnReport learned = learn(request.logs, request.options);
    Progress progress("trying changes");
    NextOptions options;
    options.target = asked.target;
    options.work = progress.work();
    const NextReport next = nextChanges(learnedPlan(request.logs.front().plan, learned), request.logs, options);
    report.out = asked.json ? nextJson(next) : nextText(next, Ink());
}

} // namespace

void addNextCommand(CLI::App& app, Report& report) {
    auto asked = std::make_shared<Asked>();
    CLI::App* command = app.add_subcommand(
        "next", "What to change next: every single change the plan's parts allow, after learning from logs");
    addLearnOptions(*command, asked->words);
    command->add_option("--target", asked->target, "Speed through the zone to aim at [the plan's]")
        ->check(CLI::Range(0.1, 400.0))
        ->type_name("MPS");
    command->add_flag("--json", asked->json, "Print JSON");
    command->callback([asked, &report] { run(*asked, report); });
}

} // namespace rw::batch
