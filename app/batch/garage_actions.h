// What the garage command does, each action from its options to what is printed.
#pragma once

#include "app/batch/command.h"
#include "storage/garage.h"

#include <optional>
#include <string>
#include <vector>

namespace rw::batch {

struct GarageAsked {
    std::string file, kind, id, input, to, from, log, setup, venue, limits, outing, map, gps;
    std::vector<std::string> thresholds; // "NAME=VALUE"
    bool sample = false, full = false, json = false, retired = false;
};

using GarageAction = Report(const GarageAsked& asked);
GarageAction garageCreate, garageCheck, garageList, garageShow, garageImport, garageExport, garageAddLog,
    garagePlanInput, garageBackup, garageRestore, garageSalvage;

// A garage that is about to be changed: waits long for other programs, and makes the dated backup that is due. Where
// that fails, a note on standard error says so.
[[nodiscard]] Garage openToWrite(const std::string& file);

// An id that was typed; none where nothing was. Throws InputError (what is told in messages) for no id.
[[nodiscard]] std::optional<Id> maybeId(const std::string& text, const std::string& what);

} // namespace rw::batch
