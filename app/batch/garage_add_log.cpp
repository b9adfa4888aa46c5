#include "app/batch/garage_actions.h"
#include "app/batch/progress.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "core/log/import.h"
#include "core/log/input_file.h"
#include "storage/garage.h"
#include "storage/log_record.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <future>

namespace rw::batch {

namespace {

using Json = nlohmann::ordered_json;

std::optional<int> polePairs(const Setup& setup) {
    const auto found = setup.values.find("motor.poles");
    if (found == setup.values.end() || !found->second.number) return std::nullopt;
    return static_cast<int>(std::lround(*found->second.number / 2.0));
}

// The owner's map of the garage that was made for this header; none where there is none.
std::optional<Part> mapFor(Garage& garage, const Log& log) {
    for (Part& map : garage.parts(ItemKind::ColumnMap)) {
        try {
            if (mapFits(readColumnMap(map.document, toString(map.id)), log.report)) return std::move(map);
        } catch (const InputError&) {
            continue; // not a map of today's form: nothing to offer
        }
    }
    return std::nullopt;
}

Id keptMap(Garage& garage, const ColumnMap& map, const std::string& name) {
    const std::string document = writeColumnMap(map);
    for (const Part& there : garage.parts(ItemKind::ColumnMap))
        if (there.document == document) return there.id;
    Part part;
    part.id.kind = ItemKind::ColumnMap;
    part.name = name.substr(name.find_last_of('/') + 1);
    part.document = document;
    return garage.add(part);
}

std::string told(const AddedLog& added, const GarageAsked& asked) {
    if (asked.json) {
        const Json json{{"log", toString(added.log)},
                        {"sessions", added.sessions},
                        {"passes", added.passes},
                        {"already_there", added.alreadyThere}};
        return json.dump(2) + "\n";
    }
    const std::string counts = std::to_string(added.sessions) + (added.sessions == 1 ? " session, " : " sessions, ") +
                               std::to_string(added.passes) + (added.passes == 1 ? " pass" : " passes");
    if (added.alreadyThere)
        return "These very bytes are in the garage already, as " + toString(added.log) + " (" + counts +
               "); nothing was added\n";
    return "Added as " + toString(added.log) + ": " + counts + "\n";
}

} // namespace

std::string garageAddLog(const GarageAsked& asked) {
    Progress progress("reading " + escapeControls(asked.log));
    const auto setup = maybeId(asked.setup, "--setup");
    const auto outing = maybeId(asked.outing, "--outing");
    const auto venue = maybeId(asked.venue, "--venue");
    Garage garage = Garage::open(asked.file);
    ImportOptions import;
    ReviewOptions review;
    if (setup) {
        review = reviewOptions(garage, *setup, outing, venue);
        import.polePairs = polePairs(garage.setup(*setup));
    }
    if (outing) static_cast<void>(garage.outing(*outing)); // a wrong id is told before the work
    if (!asked.map.empty()) import.map = readColumnMapFile(asked.map);

    const InputFile file(asked.log, static_cast<std::size_t>(largestLog));
    std::future<PackedLog> packed = std::async(std::launch::async, [&file] { return packLog(file.bytes()); });
    Log log = importLog(file.bytes(), asked.log, import, {}, [&](double share) { progress(0.8 * share); });
    std::optional<Id> map;
    if (!import.map) {
        if (const auto known = mapFor(garage, log)) {
            map = known->id;
            import.map = readColumnMap(known->document, toString(known->id));
            log = importLog(file.bytes(), asked.log, import);
        }
    }
    LogRecord record = logRecord(packed.get(), log, reviewLog(log, review));
    garage.backupIfDue();
    if (import.map && !map && !garage.findLog(record.packed.sha256)) map = keptMap(garage, *import.map, asked.map);
    record.setup = setup;
    record.outing = outing;
    record.columnMap = map;
    return told(garage.addLog(record), asked);
}

} // namespace rw::batch
