#include "app/batch/garage_actions.h"
#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/text_output.h"
#include "core/system/input_file.h"
#include "storage/garage.h"
#include "storage/log_judging.h"
#include "storage/own_limits.h"

#include <nlohmann/json.hpp>

#include <future>

namespace rw::batch {

namespace {

Part mapNamed(const ColumnMap& map, const std::string& file) {
    Part part;
    part.id.kind = ItemKind::ColumnMap;
    part.name = file.substr(file.find_last_of('/') + 1);
    part.document = writeColumnMap(map);
    return part;
}

std::string told(const AddedLog& added, const GarageAsked& asked) {
    if (asked.json)
        return printed({{"log", toString(added.log)},
                        {"sessions", added.sessions},
                        {"passes", added.passes},
                        {"already_there", added.alreadyThere}});
    const std::string counts = counted(static_cast<std::size_t>(added.sessions), "session") + ", " +
                               counted(static_cast<std::size_t>(added.passes), "pass");
    if (added.alreadyThere)
        return "These very bytes are in the garage already, as " + toString(added.log) + " (" + counts +
               "); nothing was added\n";
    return "Added as " + toString(added.log) + ": " + counts + "\n";
}

} // namespace

Report garageAddLog(const GarageAsked& asked) {
    Progress progress("reading " + escapeControls(asked.log));
    LogContext context;
    context.setup = maybeId(asked.setup, "--setup");
    context.outing = maybeId(asked.outing, "--outing");
    context.venue = maybeId(asked.venue, "--venue");
    if (!asked.gps.empty()) context.track = readGpsFile(asked.gps);
    Garage garage = openToWrite(asked.file);
    if (context.outing) static_cast<void>(garage.outing(*context.outing)); // a wrong id is told before the work
    if (const std::optional<Id> limits = maybeId(asked.limits, "--limits"))
        context.said.limits = ownLimits(garage, *limits, "--limits");
    for (const std::string& told : asked.thresholds) {
        const auto [name, value] = namedNumber(told, "--threshold");
        context.said.limits[thresholdKey(name)].number = value;
    }
    LogJudging judging = logJudging(garage, context);
    if (!asked.map.empty()) judging.import.map = readColumnMapFile(asked.map);

    const InputFile file(asked.log, static_cast<std::size_t>(largestLog));
    std::future<PackedLog> packed = std::async(std::launch::async, [&file] { return packLog(file.bytes()); });
    const JudgedLog judged = readAndJudge(file.bytes(), asked.log, judging, {}, [&](double share) { progress(share); });
    LogCompany with;
    if (!asked.map.empty()) with.columnMap = mapNamed(*judging.import.map, asked.map);
    return {told(garage.addLog(logRecord(packed.get(), judged, context), with), asked)};
}

} // namespace rw::batch
