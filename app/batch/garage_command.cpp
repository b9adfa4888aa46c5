#include "app/batch/command.h"
#include "app/batch/garage_actions.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace rw::batch {

namespace {

using Asked = GarageAsked;

// An action on a garage with what it asks for.
class Action {
public:
    Action(CLI::App& garage, Report& report, const char* name, const char* description, GarageAction* work,
           const char* fileMeans = "The garage")
        : command_(garage.add_subcommand(name, description)) {
        needed("FILE", &Asked::file, fileMeans).flag("--json", &Asked::json, "Print JSON");
        command_->callback([asked = asked_, &report, work] { report = work(*asked); });
    }
    Action& needed(const char* name, std::string Asked::*to, const char* description, const char* type = "") {
        command_->add_option(name, (*asked_).*to, description)->required()->type_name(type);
        return *this;
    }
    Action& option(const char* name, auto Asked::*to, const char* description, const char* type) {
        command_->add_option(name, (*asked_).*to, description)->type_name(type);
        return *this;
    }
    Action& flag(const char* name, bool Asked::*to, const char* description) {
        command_->add_flag(name, (*asked_).*to, description);
        return *this;
    }

private:
    std::shared_ptr<Asked> asked_ = std::make_shared<Asked>();
    CLI::App* command_;
};

void addLooking(CLI::App& garage, Report& report) {
    Action(garage, report, "list", "All of one kind", garageList)
        .needed("KIND", &Asked::kind,
                "vehicles, tyres, motors, controllers, packs, gears, venues, setups, outings, logs, passes, plans, "
                "fits, limit-sets, maps, checklists or sessions")
        .flag("--retired", &Asked::retired, "Those retired as well");
    Action(garage, report, "show", "One thing with all its values", garageShow)
        .needed("ID", &Asked::id, "vehicle-3, setup-12, log-40, …");
    Action(garage, report, "check", "Is the file sound? Version, journal and counts", garageCheck)
        .flag("--full", &Asked::full, "Indexes, references and every log's bytes too");
    Action(garage, report, "plan-input", "The plan input of a stored setup at a venue, to be planned with",
           garagePlanInput)
        .needed("SETUP-ID", &Asked::id, "setup-12")
        .needed("--venue", &Asked::venue, "Where it stands", "ID")
        .option("--limits", &Asked::limits, "Limits of your own in place of the parts', limits-1", "ID");
}

void addChanging(CLI::App& garage, Report& report) {
    Action(garage, report, "create", "A new garage; never over a file that is there", garageCreate)
        .flag("--sample", &Asked::sample, "Filled with an invented season: vehicles, setups, outings, logs");
    Action(garage, report, "add-log", "Read a log, cut it into sessions and passes, measure them, and keep it all",
           garageAddLog)
        .needed("LOG", &Asked::log, "Delimited text log; - is standard input")
        .option("--setup", &Asked::setup, "Setup revision that was driven: gearing, limits, cells", "ID")
        .option("--outing", &Asked::outing, "Outing that it belongs to: venue and weather", "ID")
        .option("--venue", &Asked::venue, "Venue, where no outing tells it", "ID")
        .option("--map", &Asked::map, "Column map of your own", "FILE.json")
        .option("--gps", &Asked::gps, "Measured speed, kept with the log: GPX or NMEA 0183", "FILE")
        .option("--limits", &Asked::limits, "Limits and thresholds of your own in place of the parts', limits-1", "ID")
        .option("--threshold", &Asked::thresholds, "A threshold of the findings as your own, again for each",
                "NAME=VALUE");
    Action(garage, report, "import", "Take in an exchange document; nothing that is there is changed", garageImport)
        .needed("EXCHANGE", &Asked::input, "What export wrote; - is standard input");
}

void addCopying(CLI::App& garage, Report& report) {
    Action(garage, report, "export", "One thing with all that it refers to, as an exchange document", garageExport)
        .needed("ID", &Asked::id, "vehicle-3, setup-12, …")
        .needed("--to", &Asked::to, "The document", "OUT.json");
    Action(garage, report, "backup", "A verified copy", garageBackup)
        .needed("--to", &Asked::to, "The copy; never over a file that is there", "COPY");
    Action(garage, report, "restore", "Everything as it was in a copy; what is there is backed up first", garageRestore)
        .needed("--from", &Asked::from, "The copy", "COPY");
    Action(garage, report, "salvage", "What can be read of a damaged garage, in a new file", garageSalvage,
           "The damaged garage; it is not touched")
        .needed("--to", &Asked::to, "The new garage", "NEW");
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
