// What the garage command does, each action from its options to the text that is printed.
#pragma once

#include "storage/garage.h"

#include <optional>
#include <string>

namespace rw::batch {

struct GarageAsked {
    std::string file, kind, id, input, to, from, log, setup, venue, limits, outing, map, gps;
    std::vector<std::string> thresholds; // "NAME=VALUE"
    bool sample = false, full = false, json = false, retired = false;
};

[[nodiscard]] std::string garageCreate(const GarageAsked& asked);
[[nodiscard]] std::string garageList(const GarageAsked& asked);
[[nodiscard]] std::string garageShow(const GarageAsked& asked);
[[nodiscard]] std::string garageImport(const GarageAsked& asked);
[[nodiscard]] std::string garageExport(const GarageAsked& asked);
[[nodiscard]] std::string garageAddLog(const GarageAsked& asked);
[[nodiscard]] std::string garagePlanInput(const GarageAsked& asked);
[[nodiscard]] std::string garageBackup(const GarageAsked& asked);
[[nodiscard]] std::string garageRestore(const GarageAsked& asked);
[[nodiscard]] std::string garageSalvage(const GarageAsked& asked);

struct GarageChecked {
    std::string out;
    bool ok = false;
};
[[nodiscard]] GarageChecked garageCheck(const GarageAsked& asked);

// A garage that is about to be changed: waits long for other programs, and makes the dated backup that is due. Where
// that fails, a note on standard error says so.
[[nodiscard]] Garage openToWrite(const std::string& file);

// An id that was typed; none where nothing was. Throws InputError (what is told in messages) for no id.
[[nodiscard]] std::optional<Id> maybeId(const std::string& text, const std::string& what);

} // namespace rw::batch
