// The commands that learn from logs: `learn` and `next`.
#include "app/batch/command.h"

#include "app/batch/learn_request.h"
#include "app/batch/progress.h"
#include "app/batch/text_output.h"
#include "core/learn/learn.h"
#include "core/plan/json_reader.h"
#include "core/system/input_file.h"
#include "core/system/whole_file.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace rw::batch {

namespace {

struct LearnAsked {
    LearnWords words;
    std::string out;
    bool json = false;
};

void runLearn(const LearnAsked& asked, Report& report) {
    LearnRequest request = readRequest(asked.words);
    Progress progress("learning");
    request.options.work = progress.work();
    const LearnReport learned = learn(request.logs, request.options);
    if (!asked.out.empty()) {
        const PlanInput plan = learnedPlan(request.logs.front().plan, learned);
        const InputFile file(asked.words.plans.front(), inputDocumentSizeLimit);
        writeWholeFile(asked.out, learnedDocument(file.bytes(), plan, learned));
    }
    report.out = asked.json ? learnJson(learned) : learnText(learned, request.logs, Ink());
    if (!asked.json && !asked.out.empty())
        report.out += "\nThe plan with what was learned: " + escapeControls(asked.out) + "\n";
    for (const std::string& note : learned.notes)
        if (note.find("already learned from") != std::string::npos) report.complaints.push_back(note);
}

struct NextAsked {
    LearnWords words;
    std::optional<double> target;
    bool json = false;
};

void runNext(const NextAsked& asked, Report& report) {
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

void addLearnCommand(CLI::App& app, Report& report) {
    auto asked = std::make_shared<LearnAsked>();
    CLI::App* command = app.add_subcommand(
        "learn", "What logs say of the vehicle: uncertain inputs of the plan, how well, and what that foretells");
    addLearnOptions(*command, asked->words);
    command->add_option("--out", asked->out, "Write the first plan with what was learned")->type_name("NEW.json");
    command->add_flag("--json", asked->json, "Print JSON");
    command->callback([asked, &report] { runLearn(*asked, report); });
}

void addNextCommand(CLI::App& app, Report& report) {
    auto asked = std::make_shared<NextAsked>();
    CLI::App* command = app.add_subcommand(
        "next", "What to change next: every single change the plan's parts allow, after learning from logs");
    addLearnOptions(*command, asked->words);
    command->add_option("--target", asked->target, "Speed through the zone to aim at [the plan's]")
        ->check(CLI::Range(0.1, 400.0))
        ->type_name("MPS");
    command->add_flag("--json", asked->json, "Print JSON");
    command->callback([asked, &report] { runNext(*asked, report); });
}

} // namespace rw::batch
