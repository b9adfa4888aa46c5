#include "app/batch/command.h"
#include "app/batch/garage_actions.h"
#include "storage/garage_error.h"

#include <CLI/CLI.hpp>

#include <functional>
#include <memory>

namespace rw::batch {

namespace {

using Asked = std::shared_ptr<GarageAsked>;
using Work = std::function<std::string(const GarageAsked&)>;

// The garage's refusals end with a status of their own.
template<class Action>
auto refusing(Action&& action) {
    try {
        return action();
    } catch (const GarageError& refused) {
        throw CommandFailure(GarageRefused, refused.what());
    }
}

CLI::App* action(CLI::App& garage, const char* name, const char* description, const Asked& asked,
                 const char* fileMeans = "The garage") {
    CLI::App* command = garage.add_subcommand(name, description);
    command->add_option("FILE", asked->file, fileMeans)->required()->type_name("");
    command->add_flag("--json", asked->json, "Print JSON");
    return command;
}

void runs(CLI::App* command, const Asked& asked, Report& report, Work work) {
    command->callback(
        [asked, &report, work = std::move(work)] { report.out = refusing([&] { return work(*asked); }); });
}

void addLooking(CLI::App& garage, Report& report) {
    const Asked list = std::make_shared<GarageAsked>();
    CLI::App* command = action(garage, "list", "All of one kind", list);
    command
        ->add_option(
            "KIND", list->kind,
            "vehicles, tyres, motors, controllers, packs, gears, venues, setups, outings, logs, passes, plans, "
            "fits, limit-sets, maps, checklists or sessions")
        ->required()
        ->type_name("");
    command->add_flag("--retired", list->retired, "Those retired as well");
    runs(command, list, report, garageList);

    const Asked show = std::make_shared<GarageAsked>();
    command = action(garage, "show", "One thing with all its values", show);
    command->add_option("ID", show->id, "vehicle-3, setup-12, log-40, …")->required()->type_name("");
    runs(command, show, report, garageShow);

    const Asked check = std::make_shared<GarageAsked>();
    command = action(garage, "check", "Is the file sound? Version, journal and counts", check);
    command->add_flag("--full", check->full, "Indexes, references and every log's bytes too");
    command->callback([check, &report] {
        const GarageChecked checked = refusing([&] { return garageCheck(*check); });
        report.out = checked.out;
        if (!checked.ok) report.status = GarageRefused;
    });

    const Asked plan = std::make_shared<GarageAsked>();
    command = action(garage, "plan-input", "The plan input of a stored setup at a venue, to be planned with", plan);
    command->add_option("SETUP-ID", plan->id, "setup-12")->required()->type_name("");
    command->add_option("--venue", plan->venue, "Where it stands")->required()->type_name("ID");
    command->add_option("--limits", plan->limits, "Limits of your own in place of the parts', limits-1")
        ->type_name("ID");
    runs(command, plan, report, garagePlanInput);
}

void addChanging(CLI::App& garage, Report& report) {
    const Asked create = std::make_shared<GarageAsked>();
    CLI::App* command = action(garage, "create", "A new garage; never over a file that is there", create);
    command->add_flag("--sample", create->sample, "Filled with an invented season: vehicles, setups, outings, logs");
    runs(command, create, report, garageCreate);

    const Asked add = std::make_shared<GarageAsked>();
    command =
        action(garage, "add-log", "Read a log, cut it into sessions and passes, measure them, and keep it all", add);
    command->add_option("LOG", add->log, "Delimited text log; - is standard input")->required()->type_name("");
    command->add_option("--setup", add->setup, "Setup revision that was driven: gearing, limits, cells")
        ->type_name("ID");
    command->add_option("--outing", add->outing, "Outing that it belongs to: venue and weather")->type_name("ID");
    command->add_option("--venue", add->venue, "Venue, where no outing tells it")->type_name("ID");
    command->add_option("--map", add->map, "Column map of your own")->type_name("FILE.json");
    command->add_option("--gps", add->gps, "Measured speed, kept with the log: GPX or NMEA 0183")->type_name("FILE");
    command->add_option("--limits", add->limits, "Limits and thresholds of your own in place of the parts', limits-1")
        ->type_name("ID");
    command->add_option("--threshold", add->thresholds, "A threshold of the findings as your own, again for each")
        ->type_name("NAME=VALUE");
    runs(command, add, report, garageAddLog);

    const Asked import = std::make_shared<GarageAsked>();
    command = action(garage, "import", "Take in an exchange document; nothing that is there is changed", import);
    command->add_option("EXCHANGE", import->input, "What export wrote; - is standard input")->required()->type_name("");
    runs(command, import, report, garageImport);
}

void addCopying(CLI::App& garage, Report& report) {
    const Asked give = std::make_shared<GarageAsked>();
    CLI::App* command = action(garage, "export", "One thing with all that it refers to, as an exchange document", give);
    command->add_option("ID", give->id, "vehicle-3, setup-12, …")->required()->type_name("");
    command->add_option("--to", give->to, "The document")->required()->type_name("OUT.json");
    runs(command, give, report, garageExport);

    const Asked backup = std::make_shared<GarageAsked>();
    command = action(garage, "backup", "A verified copy", backup);
    command->add_option("--to", backup->to, "The copy; never over a file that is there")->required()->type_name("COPY");
    runs(command, backup, report, garageBackup);

    const Asked restore = std::make_shared<GarageAsked>();
    command = action(garage, "restore", "Everything as it was in a copy; what is there is backed up first", restore);
    command->add_option("--from", restore->from, "The copy")->required()->type_name("COPY");
    runs(command, restore, report, garageRestore);

    const Asked salvage = std::make_shared<GarageAsked>();
    command = action(garage, "salvage", "What can be read of a damaged garage, in a new file", salvage,
                     "The damaged garage; it is not touched");
    command->add_option("--to", salvage->to, "The new garage")->required()->type_name("NEW");
    runs(command, salvage, report, garageSalvage);
}

constexpr const char* examples =
    "Examples:\n"
    "  runwright-batch garage create try.garage --sample\n"
    "  runwright-batch garage list try.garage setups\n"
    "  runwright-batch garage plan-input try.garage setup-2 --venue venue-1 | runwright-batch plan -\n"
    "  runwright-batch garage add-log try.garage day.csv --setup setup-2 --venue venue-1\n";

} // namespace

void addGarageCommand(CLI::App& app, Report& report) {
    CLI::App* garage = app.add_subcommand("garage", "Keep vehicles, setups, outings, logs and plans in one file");
    garage->require_subcommand(1);
    garage->footer(examples);
    addLooking(*garage, report);
    addChanging(*garage, report);
    addCopying(*garage, report);
}

} // namespace rw::batch
