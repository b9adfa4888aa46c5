#include "app/batch/command.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/choose/day.h"
#include "core/plan/plan_json.h"
#include "core/plan/repeats.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <optional>

namespace rw::batch {

namespace {

struct DayChoices {
    std::string file;
    int passes = 20;
    std::optional<double> wait;
    bool json = false;
};

std::string dayText(const DayResult& day, int most, const Ink& ink) {
    Table table{"wait s", "passes", "winding °C", "case °C", "<ends it"};
    for (const DayRow& row : day.rows)
        table.row({fixed(row.wait_s, 0), std::to_string(row.passes), fixed(row.windingPeak, 1), fixed(row.casePeak, 1),
                   row.limit ? ink.warn(dayEndText(*row.limit)) : ink.good("nothing")});
    return ink.heading("Passes back to back on one pack, at most " + std::to_string(most)) + "\n" + table.text(ink) +
           ink.faint("  temperatures: the highest of those passes, soak counted") + "\n\n" + cautionText(ink);
}

} // namespace

void addDayCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<DayChoices>();
    CLI::App* command = app.add_subcommand("day", "How many passes back to back until a limit, over the wait between");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    command->add_option("--passes", options->passes, "Counts no further, 1 to 100")
        ->check(CLI::Range(1, 100))
        ->type_name("N");
    command->add_option("--wait", options->wait, "One wait alone, s")->type_name("S");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("day");
        DayOptions asked;
        asked.passes = options->passes;
        if (options->wait) asked.waits_s = {*options->wait};
        asked.work = progress.work();
        const DayResult day = dayOfPasses(input, asked);
        report.out = options->json ? dayJson(day) : dayText(day, options->passes, Ink());
    });
}

} // namespace rw::batch
