#include "app/batch/command.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "core/log/gps.h"
#include "core/log/import.h"
#include "core/log/import_refusal.h"
#include "core/plan/plan_json.h"
#include "core/review/review.h"
#include "core/shortest_text.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <memory>
#include <new>
#include <optional>

namespace rw::batch {

namespace {

struct Asked {
    std::vector<std::string> logs;
    std::string plan, gps, map;
    std::string cells;
    std::optional<double> cutoff, rate;
    std::vector<std::string> thresholds; // "NAME=VALUE"
    SpeedUnit speed = SpeedUnit::Mps;
    bool json = false, listThresholds = false;
};

struct Settings {
    ImportOptions import;
    ReviewOptions review;
};

// "6" or "3,6"; none where it is anything else.
std::optional<std::vector<int>> countsIn(const std::string& text) {
    constexpr int most = 24;
    auto counts = numbersIn<int>(text, ',');
    const bool possible = counts && std::ranges::all_of(*counts, [](int count) { return count >= 1 && count <= most; });
    return possible ? counts : std::nullopt;
}

std::string cellCounts(const std::string& text) {
    return countsIn(text) ? "" : "expected cell counts from 1 to 24 such as 6 or 3,6; found " + escapeControls(text);
}

Settings settings(const Asked& asked) {
    Settings s;
    if (!asked.plan.empty()) {
        s.review.plan = readPlanInputFile(asked.plan);
        s.import.polePairs = s.review.plan->motor.poles / 2;
    }
    if (!asked.map.empty()) s.import.map = readColumnMapFile(asked.map);
    if (!asked.gps.empty()) s.review.track = readGpsFile(asked.gps);
    s.import.rate_Hz = asked.rate;
    if (!asked.cells.empty()) s.review.cells = *countsIn(asked.cells);
    s.review.cutoffCell = asked.cutoff;
    for (const std::string& told : asked.thresholds) {
        const auto [name, value] = namedNumber(told, "--threshold");
        setThreshold(s.review.thresholds, name, value);
    }
    return s;
}

std::string thresholdsText() {
    Table table{"<name", "value", "<", "<why"};
    for (const ThresholdField& field : thresholdFields())
        table.row({std::string(field.name), shortestText(field.defaultValue), std::string(field.unit),
                   std::string(field.reason)});
    return table.text(Ink());
}

// One log that was refused, as it stands among others.
Report refused(const std::string& file, const std::string& why, bool json) {
    return {json ? printed({{"file", escapeControls(file)}, {"error", escapeControls(why)}})
                 : Ink().bad(escapeControls(file)) + "\n  Not reviewed: " + escapeControls(why) + "\n",
            {why},
            WrongInput};
}

Report reviewOne(const std::string& file, const Settings& settings, const Asked& asked) {
    try {
        Progress progress("review of " + escapeControls(file));
        const Log log = importLogFile(file, settings.import, {}, [&](double share) { progress(0.9 * share); });
        const LogReview review = reviewLog(log, settings.review);
        UnitChoice units = plainUnits;
        units.speed = asked.speed;
        return {asked.json ? reviewJson(log, review) : reviewText(log, review, Ink(), units)};
    } catch (const ImportRefusal& unmapped) {
        return refused(file, unmapped.what() + std::string(" (--map FILE, --rate HZ)"), asked.json);
    } catch (const InputError& wrong) {
        return refused(file, wrong.what(), asked.json);
    } catch (const std::bad_alloc&) {
        return refused(file, file + ": there is not enough memory to read it", asked.json);
    }
}

Report run(const Asked& asked) {
    if (std::ranges::count(asked.logs, "-") > 1) return {"", {"standard input can be read once only"}, WrongUsage};
    const Settings options = settings(asked);
    Report all;
    for (const std::string& log : asked.logs) {
        const Report one = reviewOne(log, options, asked);
        all.out += (all.out.empty() ? "" : asked.json ? ",\n" : "\n") + one.out;
        all.complaints.insert(all.complaints.end(), one.complaints.begin(), one.complaints.end());
        all.status = std::max(all.status, one.status);
    }
    const bool several = asked.logs.size() > 1;
    if (!several && all.status != Done) all.out.clear(); // nothing on standard output
    if (several && asked.json) all.out = "{\"logs\": [\n" + all.out + "]}\n";
    return all;
}

} // namespace

void addReviewCommand(CLI::App& app, Report& report) {
    auto asked = std::make_shared<Asked>();
    CLI::App* command = app.add_subcommand("review", "What happened in a log: sessions, passes, figures, findings");
    command->add_option("LOG", asked->logs, "Delimited text logs; - is standard input")->type_name("")->expected(1, -1);
    command->add_option("--plan", asked->plan, "Plan input: gearing, limits, and what was expected")->type_name("FILE");
    command->add_option("--gps", asked->gps, "Measured speed: GPX or NMEA 0183")->type_name("FILE");
    command->add_option("--map", asked->map, "Column map of your own")->type_name("FILE");
    command->add_option("--cells", asked->cells, "Cells in series: one number from 1 to 24, or one for each session")
        ->check(cellCounts, "")
        ->type_name("N[,N...]");
    command->add_option("--cutoff", asked->cutoff, "Cutoff, volts per cell")
        ->check(CLI::Range(1.0, 5.0))
        ->type_name("V");
    command->add_option("--rate", asked->rate, "Rows a second, where the log has no time or a wrong one")
        ->check(CLI::Range(1e-3, 1e6))
        ->type_name("HZ");
    static const std::map<std::string, SpeedUnit> speeds{
        {"kmh", SpeedUnit::Kmh}, {"mph", SpeedUnit::Mph}, {"mps", SpeedUnit::Mps}};
    addChoice(*command, "--units", asked->speed, speeds, "Unit of speeds in the text; JSON has m/s")
        ->type_name("kmh|mph|mps");
    command->add_option("--threshold", asked->thresholds, "A threshold of the findings as your own, again for each")
        ->type_name("NAME=VALUE");
    command->add_flag("--thresholds", asked->listThresholds,
                      "Print every threshold with its reason and do nothing else");
    command->add_flag("--json", asked->json, "Print JSON");
    command->callback([asked, &report] {
        if (!asked->listThresholds && asked->logs.empty()) throw CLI::RequiredError("LOG");
        report = asked->listThresholds ? Report{thresholdsText()} : run(*asked);
    });
}

} // namespace rw::batch
