#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/choose/choose_power.h"
#include "core/error.h"
#include "core/plan/limits.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "core/system/whole_file.h"
#include "storage/choose_set.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>

namespace rw::batch {

namespace {

struct ChooseChoices {
    std::string garage, setup, venue, plans;
    std::optional<double> target;
    std::optional<ChooseRank> rank;
    std::size_t runs = 500;
    bool json = false;
};

const std::map<std::string, ChooseRank> ranks{{"margin", ChooseRank::Margin},
                                              {"fastest", ChooseRank::Fastest},
                                              {"least-current", ChooseRank::LeastCurrent},
                                              {"chance", ChooseRank::Chance}};

ChooseSet setOf(const ChooseChoices& asked) {
    Garage garage = Garage::open(asked.garage);
    return chooseSet(garage, parseId(asked.setup, "--setup"), parseId(asked.venue, "--venue"));
}

void writePlans(const ChooseSet& set, const ChooseResult& result, const std::string& folder) {
    std::error_code failed;
    std::filesystem::create_directories(folder, failed);
    if (failed) throw InputError(folder, "cannot be made: " + failed.message());
    for (const ChooseRow& row : result.rows)
        writeWholeFile(folder + "/" + set.motors[row.motor].id + "_" + set.controllers[row.controller].id + "_" +
                           set.packs[row.pack].id + ".json",
                       writePlanInput(row.plan));
}

std::string rowsText(const ChooseSet& set, const ChooseResult& result, const Ink& ink) {
    Table table{"<motor",      "<controller", "<pack", "gears",     "zone m/s", "km/h",     "pack A", "case °C",
                "stands at m", "kg",          "<",     "<tightest", "<",        "makes it", "breaks"};
    const auto chance = [](std::optional<double> share) { return share ? percentText(*share) : std::string("-"); };
    for (std::size_t i = 0; i < result.rows.size(); ++i) {
        const ChooseRow& row = result.rows[i];
        const auto kmh = row.zoneMean ? std::optional(*row.zoneMean * 3.6) : std::nullopt;
        const bool efficient = std::ranges::binary_search(result.efficient, i);
        table.row({escapeControls(set.motors[row.motor].name), escapeControls(set.controllers[row.controller].name),
                   escapeControls(set.packs[row.pack].name),
                   std::to_string(row.pinion) + "/" + std::to_string(row.spur), fixed(row.zoneMean, 2), fixed(kmh, 1),
                   fixed(row.peakPackCurrent, 1), fixed(row.caseSoakPeak, 1), fixed(row.stopAt, 1),
                   fixed(row.plan.vehicle.mass_kg, 3),
                   std::string(efficient ? "e" : " ") + (row.makesTarget ? "t" : " "),
                   row.zoneMean ? std::string(limitRow(row.tightest.limit).title) : ink.bad("not completed"),
                   row.zoneMean ? marginText(row.tightest.margin, ink) : "", chance(row.targetProbability),
                   chance(row.limitProbability)});
    }
    return table.text(ink) +
           ink.faint(
               "  e efficient: no other is both faster and further from its tightest limit   t makes the target") +
           "\n";
}

std::string leftOutText(const ChooseResult& result, const Ink& ink) {
    if (result.leftOut.empty()) return "";
    std::string out = "\n" + ink.heading("Left out") + "\n";
    for (const ChooseLeftOut& one : result.leftOut) {
        std::string who;
        for (const std::string* id : {&one.motor, &one.controller, &one.pack})
            if (!id->empty()) who += (who.empty() ? "" : ", ") + *id;
        out += "  " + who + ": " + escapeControls(one.why) + "\n";
    }
    return out;
}

std::string chooseText(const ChooseSet& set, const ChooseResult& result, const Ink& ink) {
    const auto target = set.base.drive.target_mps;
    std::string out = ink.heading(target ? "What of the garage makes " + speedText(target) + " and holds"
                                         : "What of the garage is fastest and holds") +
                      "\n" + rowsText(set, result, ink);
    std::vector<std::string> notes;
    for (const ChooseRow& row : result.rows)
        for (const std::string& note : row.notes)
            if (note.find("mass") != std::string::npos && std::ranges::find(notes, note) == notes.end())
                notes.push_back(note);
    for (const std::string& note : notes)
        out += "  " + note + "\n";
    const bool broken = std::ranges::any_of(result.rows, [](auto& row) { return !row.withinLimits; });
    return out + leftOutText(result, ink) + (broken ? "\n" + cautionText(ink) : "");
}

} // namespace

void addChooseCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<ChooseChoices>();
    CLI::App* command = app.add_subcommand(
        "choose", "Try every motor, controller and pack of a garage in a setup, each with its best gears");
    command->add_option("GARAGE", options->garage, "The garage")->required()->type_name("");
    command->add_option("--setup", options->setup, "setup-12: vehicle, tyres and everything else")
        ->required()
        ->type_name("ID");
    command->add_option("--venue", options->venue, "Where it stands")->required()->type_name("ID");
    command->add_option("--target", options->target, "Mean speed through the zone, m/s; the setup's own unless given")
        ->type_name("MPS");
    addChoice(*command, "--rank", options->rank, ranks,
              "margin (usual with a target), fastest (usual without), least-current or chance")
        ->type_name("ORDER");
    addRuns(*command, options->runs, "Runs of the spread of each of the 20 best rows");
    command->add_option("--plans", options->plans, "Write every row as a plan, MOTOR_CONTROLLER_PACK.json")
        ->type_name("DIR");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        ChooseSet set = setOf(*options);
        if (options->target) {
            checkFieldValue(*findPlanField("drive.target_mps"), *options->target, "--target");
            set.base.drive.target_mps = options->target;
        }
        Progress progress("choose");
        const ChooseResult result = choosePower(set, {options->rank, options->runs, progress.work()});
        if (!options->plans.empty()) writePlans(set, result, options->plans);
        report.out = options->json ? chooseJson(set, result) : chooseText(set, result, Ink());
    });
}

} // namespace rw::batch
