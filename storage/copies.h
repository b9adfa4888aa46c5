// Whole copies of a garage file through SQLite's backup interface. Private to storage.
#pragma once

#include "storage/connection.h"

#include <string>

namespace rw {

// A consistent copy of what the connection sees, checked, in rollback-journal form, synced, under its final name,
// folder synced. Refused where the name is taken.
void writeVerifiedCopy(Connection& from, const std::string& to, const GarageOptions& options);
// The same as datedName(stem, ending, …), whatever number is free at the end. Returns its path.
std::string writeDatedCopy(Connection& from, const std::string& stem, const std::string& ending,
                           const GarageOptions& options);
// All pages of one open file into another, as they are at one instant; waits for other connections, stops and tells
// how far it is as options say. Stopped, the other file is as it was.
void copyPages(Connection& from, Connection& to, const GarageOptions& options);
// Throws GarageError where the file is no sound garage that this program knows (older versions are fine).
void requireSoundGarage(const std::string& path, const GarageOptions& options);
// "2026-11-25T152252Z": for file names.
[[nodiscard]] std::string stampForFiles();
// `stem` + stamp + `ending`, from the second on with its number.
[[nodiscard]] std::string datedName(const std::string& stem, const std::string& stamp, const std::string& ending,
                                    int number);

} // namespace rw
