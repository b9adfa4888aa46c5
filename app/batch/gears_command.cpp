#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/plan/gears.h"
#include "core/plan/limits.h"
#include "core/plan/plan_json.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <map>
#include <memory>

namespace rw::batch {

namespace {

struct GearsOptions {
    std::string file;
    GearRank rank = GearRank::Fastest;
    bool json = false;
};

const std::map<std::string, GearRank> ranks{
    {"fastest", GearRank::Fastest}, {"least-current", GearRank::LeastCurrent}, {"shortest", GearRank::Shortest}};

std::string rankText(GearRank rank) {
    switch (rank) {
    case GearRank::Fastest:
        return "within limits first, then the fastest through the zone";
    case GearRank::LeastCurrent:
        return "within limits and making the target first, then the least pack current";
    case GearRank::Shortest:
        return "within limits and making the target first, then the shortest way to it";
    }
    return "";
}

std::string tableText(const PlanInput& input, const GearTable& table, GearRank rank, const Ink& ink) {
    if (table.rows.empty()) return "None of the pinions and spurs at hand fits the mount.\n";
    Table text{"pinion", "spur",    "ratio",       "zone m/s", "km/h",      "peak m/s",
               "pack A", "case °C", "stands at m", "<",        "<tightest", "<"};
    bool broken = false;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const GearRow& row = table.rows[i];
        const bool fitted = row.pinion == input.gears.pinion_teeth && row.spur == input.gears.spur_teeth;
        const bool efficient = std::ranges::binary_search(table.efficient, i);
        const auto kmh = row.zoneMean ? std::optional(*row.zoneMean * 3.6) : std::nullopt;
        const std::string marks =
            std::string(fitted ? "f" : " ") + (efficient ? "e" : " ") + (row.makesTarget ? "t" : " ");
        broken = broken || !row.withinLimits;
        text.row({std::to_string(row.pinion), std::to_string(row.spur), fixed(row.overallRatio, 3),
                  fixed(row.zoneMean, 2), fixed(kmh, 1), fixed(row.peakSpeed, 2), fixed(row.peakPackCurrent, 1),
                  fixed(row.caseSoakPeak, 1), fixed(row.stopAt, 1), marks,
                  row.zoneMean ? std::string(limitRow(row.tightest.limit).title) : ink.bad("not completed"),
                  row.zoneMean ? marginText(row.tightest.margin, ink) : ""});
    }
    std::string out = ink.heading("Gear table") + ", " + rankText(rank) + "\n" + text.text(ink);
    out +=
        ink.faint("  f fitted now   e efficient: no other is both faster and easier on the pack   t makes the target") +
        "\n";
    return out + (broken ? "\n" + cautionText(ink) : "");
}

} // namespace

void addGearsCommand(CLI::App& app, Report& report) {
    auto options = std::make_shared<GearsOptions>();
    CLI::App* command = app.add_subcommand("gears", "Try every pinion and spur that fits, ranked");
    command->add_option("FILE", options->file, "Plan input; - is standard input")->required()->type_name("");
    addChoice(*command, "--rank", options->rank, ranks, "fastest, least-current or shortest (way to the target)")
        ->type_name("ORDER");
    command->add_flag("--json", options->json, "Print JSON");
    command->callback([options, &report] {
        const PlanInput input = readPlanInputFile(options->file);
        Progress progress("gears");
        const GearTable table = sweepGears(input, options->rank, progress.work());
        report.out = options->json ? gearTableJson(table) : tableText(input, table, options->rank, Ink());
    });
}

} // namespace rw::batch
