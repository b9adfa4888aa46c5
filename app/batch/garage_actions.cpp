#include "app/batch/garage_actions.h"

#include "app/batch/progress.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "core/system/input_file.h"
#include "core/system/whole_file.h"
#include "storage/garage.h"
#include "storage/own_limits.h"
#include "storage/sample_garage.h"

#include <nlohmann/json.hpp>

#include <chrono>
#include <cstdio>

namespace rw::batch {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t largestExchangeFile = 256'000'000;

std::string countsText(const std::map<std::string, std::int64_t>& counts) {
    Table table{"<", ""};
    for (const ItemKind kind : allKinds()) {
        const auto found = counts.find(std::string(kindPlural(kind)));
        if (found != counts.end() && found->second > 0) table.row({found->first, std::to_string(found->second)});
    }
    return table.empty() ? "  nothing in it yet\n" : table.text(Ink());
}

Json idsJson(const std::vector<Id>& ids) {
    Json out = Json::array();
    for (const Id id : ids)
        out.push_back(toString(id));
    return out;
}

std::string problemsText(const std::vector<std::string>& problems, const Ink& ink) {
    std::string out;
    for (const std::string& problem : problems)
        out += "  " + ink.bad(escapeControls(problem)) + "\n";
    return out;
}

GarageCheck checkOf(const GarageAsked& asked) {
    try {
        Garage garage = Garage::open(asked.file);
        GarageCheck check = garage.check(asked.full);
        if (check.ok && !garage.problems().empty()) check.problems = garage.problems(), check.ok = false;
        return check;
    } catch (const GarageError& error) {
        if (error.kind() != GarageError::Kind::Damaged) throw;
        return {false, 0, journalChoice(), {}, {error.what()}}; // too damaged to be opened at all
    }
}

} // namespace

std::optional<Id> maybeId(const std::string& text, const std::string& what) {
    return text.empty() ? std::nullopt : std::optional(parseId(text, what));
}

Garage openToWrite(const std::string& file) {
    GarageOptions options;
    options.wait = std::chrono::minutes(2); // many programs may add at once, and nobody sits before this one
    Garage garage = Garage::open(file, options);
    if (garage.access() == Garage::Access::ReadWrite)
        if (const DueBackup backup = garage.backupIfDue(); !backup.problem.empty())
            std::fprintf(stderr, "note: the automatic backup was not made (%s)\n",
                         escapeControls(backup.problem).c_str());
    return garage;
}

Report garageCreate(const GarageAsked& asked) {
    Progress progress("making the sample garage");
    Garage garage = asked.sample ? createSampleGarage(asked.file, [&](double share) { progress(share); })
                                 : Garage::create(asked.file);
    const auto counts = garage.check(false).counts;
    if (asked.json) return {printed({{"file", asked.file}, {"schema", Garage::schemaVersion}, {"counts", counts}})};
    return {"Made " + escapeControls(asked.file) + (asked.sample ? ", an invented garage to try things with\n" : "\n") +
            (asked.sample ? countsText(counts) : "")};
}

Report garageCheck(const GarageAsked& asked) {
    const GarageCheck check = checkOf(asked);
    const int status = check.ok ? Done : GarageRefused;
    if (asked.json)
        return {printed({{"ok", check.ok},
                         {"schema", check.schema},
                         {"journal", check.journal},
                         {"counts", check.counts},
                         {"problems", check.problems}}),
                {},
                status};
    const Ink ink;
    std::string out =
        ink.heading(escapeControls(asked.file)) + "\n  " + (check.ok ? ink.good("sound") : ink.bad("damaged"));
    if (asked.full && check.ok) out += ", all of it read";
    if (check.schema > 0) out += "; garage version " + std::to_string(check.schema);
    out += "\n  " + check.journal + "\n" + problemsText(check.problems, ink);
    return {out + (check.counts.empty() ? "" : countsText(check.counts)), {}, status};
}

Report garageImport(const GarageAsked& asked) {
    std::string document;
    {
        const InputFile file(asked.input, largestExchangeFile);
        document = file.bytes();
    }
    Garage garage = openToWrite(asked.file);
    const ImportedItems items = garage.importItems(document, asked.input);
    if (asked.json)
        return {printed({{"root", toString(items.root)},
                         {"added", idsJson(items.added)},
                         {"already_there", idsJson(items.alreadyThere)}})};
    return {toString(items.root) + ": " + std::to_string(items.added.size()) + " added, " +
            std::to_string(items.alreadyThere.size()) + " were there already\n"};
}

Report garageExport(const GarageAsked& asked) {
    const Id id = parseId(asked.id, "ID");
    writeWholeFile(asked.to, Garage::open(asked.file).exportItem(id));
    if (asked.json) return {printed({{"id", toString(id)}, {"to", asked.to}})};
    return {toString(id) + " written to " + escapeControls(asked.to) + "\n"};
}

Report garagePlanInput(const GarageAsked& asked) {
    const Id setup = parseId(asked.id, "SETUP-ID");
    const Id venue = parseId(asked.venue, "--venue");
    Garage garage = Garage::open(asked.file);
    PlanInput plan = garage.planInput(setup, venue);
    if (const std::optional<Id> limits = maybeId(asked.limits, "--limits")) {
        const Values own = ownLimits(garage, *limits, "--limits");
        putLimits(own, garage.part(*limits).name, plan);
    }
    return {writePlanInput(plan)};
}

Report garageBackup(const GarageAsked& asked) {
    Garage::open(asked.file).backupTo(asked.to);
    if (asked.json) return {printed({{"to", asked.to}})};
    return {"Copied to " + escapeControls(asked.to) + ", and the copy checked\n"};
}

Report garageRestore(const GarageAsked& asked) {
    std::string kept;
    try {
        Garage garage = Garage::open(asked.file);
        if (garage.access() == Garage::Access::Damaged) throw GarageError(GarageError::Kind::Damaged, "");
        garage.restore(asked.from);
    } catch (const GarageError& error) {
        using Kind = GarageError::Kind;
        if (error.kind() != Kind::Damaged && error.kind() != Kind::NotAGarage && error.kind() != Kind::NotFound) throw;
        kept = restoreGarageFile(asked.file, asked.from); // refuses an unsound copy itself
    }
    if (asked.json) return {printed({{"from", asked.from}, {"kept", kept.empty() ? Json() : Json(kept)}})};
    return {escapeControls(asked.file) + " is as in " + escapeControls(asked.from) +
            (kept.empty() ? std::string("\n") : "; what was there is kept as " + escapeControls(kept) + "\n")};
}

Report garageSalvage(const GarageAsked& asked) {
    const SalvageReport report = salvageGarage(asked.file, asked.to);
    if (asked.json) return {printed({{"saved", report.saved}, {"lost", report.lost}})};
    return {"Saved into " + escapeControls(asked.to) + "\n" + countsText(report.saved) +
            problemsText(report.lost, Ink())};
}

} // namespace rw::batch
